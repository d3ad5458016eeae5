package tanks

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"overwinter/internal/units"
)

// Member is one tank of a set that is piped together.
type Member struct {
	Shape Shape
	// Bottom is how high the tank's depth 0 stands above any mark that all tanks of the set share, in
	// millimetres; it may be negative.
	Bottom units.Millimetres
}

// Joined is a set of tanks that are piped together near the bottom, with the valves open: one level stands in all of
// them, and the volume is the sum of theirs. The depth is counted from the lowest bottom, wherever the dip is taken:
//
//	V(h) = Σ Vᵢ(h − (Bottomᵢ − lowest Bottom))
//
// The full depth is that of the highest top. A tank whose top is lower counts as full above it, which is so
// only if its vent reaches higher than the level: where it does not, the safe fill must stay below [LowestTop].
// A set of one is that tank itself.
//
// It refuses an empty set, a tank known by its capacity only, bottoms that are no numbers or lie too far
// apart, and a tank that stands wholly above the others' tops, with which no level is ever common.
func Joined(members ...Member) (Shape, error) {
	const what = "the joined tanks cannot be used"
	if len(members) == 0 || len(members) > mostPieces {
		return nil, invalid(what, "tanks", "there are %d: expected 1 to %d", len(members), mostPieces)
	}
	var set joined
	for i, m := range members {
		where := "tank " + strconv.Itoa(i+1)
		if m.Shape == nil || m.Shape.Depth() == 0 {
			return nil, invalid(what, where, "it has no depth: expected a capacity table or dimensions")
		}
		if !(m.Bottom >= -longest && m.Bottom <= longest) {
			return nil, invalid(what, where, "its bottom is at %s mm: expected -%s to %s mm", plain(m.Bottom), plain(longest), plain(longest))
		}
		set.members = append(set.members, m)
	}
	slices.SortStableFunc(set.members, func(a, b Member) int { return cmp.Compare(a.Bottom, b.Bottom) })
	lowest := set.members[0].Bottom
	var capacity units.Litres
	for i := range set.members {
		m := &set.members[i]
		m.Bottom -= lowest
		if i > 0 && m.Bottom >= set.depth {
			return nil, invalid(what, "tanks", "a bottom at %s mm above the lowest is not below the top of the tanks under it at %s mm: "+
				"one level never stands in both; check the heights", plain(m.Bottom), plain(set.depth))
		}
		set.depth = max(set.depth, m.Bottom+m.Shape.Depth())
		capacity += Capacity(m.Shape)
	}
	if len(set.members) == 1 {
		return set.members[0].Shape, nil
	}
	if !(set.depth <= longest && capacity <= largest) {
		return nil, invalid(what, "tanks", "they reach %s mm and hold %s L: expected at most %s mm and %s L",
			plain(set.depth), plain(capacity), plain(longest), plain(largest))
	}
	return set, nil
}

// LowestTop is the depth, counted as in the set that [Joined] makes of the members, of the lowest top: above
// it that tank is full. It is meant for members that Joined takes.
func LowestTop(members ...Member) units.Millimetres {
	if len(members) == 0 {
		return 0
	}
	lowest, top := members[0].Bottom, units.Millimetres(math.Inf(1))
	for _, m := range members {
		lowest = min(lowest, m.Bottom)
		if m.Shape != nil {
			top = min(top, m.Bottom+m.Shape.Depth())
		}
	}
	return top - lowest
}

// joined is a set by rising bottoms, which are counted from the lowest.
type joined struct {
	members []Member
	depth   units.Millimetres
}

func (j joined) Depth() units.Millimetres { return j.depth }

func (j joined) Volume(depth units.Millimetres) units.Litres {
	var sum units.Litres
	for i := range j.members {
		m := &j.members[i]
		sum += m.Shape.Volume(depth - m.Bottom)
	}
	return sum
}

func (j joined) capacity() units.Litres {
	var sum units.Litres
	for _, m := range j.members {
		sum += Capacity(m.Shape)
	}
	return sum
}

func (j joined) kinks() []units.Millimetres {
	var all []units.Millimetres
	for _, m := range j.members {
		for _, k := range kinksOf(m.Shape) {
			all = append(all, k+m.Bottom)
		}
	}
	return all
}
