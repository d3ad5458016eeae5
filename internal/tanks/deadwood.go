package tanks

import (
	"math"
	"slices"
	"strconv"

	"overwinter/internal/units"
)

// Deadwood is a fitting that changes the volume of a tank between two levels, spread evenly over them: a
// ladder, a heating coil or hardened sludge takes volume, a manhole or nozzle outside the shell adds some. The sign is
// that of ISO 7507 (from memory): positive adds to the capacity, negative displaces liquid.
type Deadwood struct {
	From, To units.Millimetres // levels, counted as depths of the tank
	Adds     units.Litres      // above 0 adds volume, below 0 displaces liquid
}

// mostPieces bounds what one tank is made of.
const mostPieces = 1000

// WithDeadwood is a shape with its fittings counted in: V(h) = V of the bare shape + Σ Adds·(share of the
// fitting below h). It refuses a shape without a depth, a piece that is outside the tank or has no height,
// and pieces that displace as much as there is, naming the level: the volume must go on rising
// from the lowest piece to the highest. In a lying tank a coil cannot reach down to depth 0, where there is no volume to take.
func WithDeadwood(bare Shape, pieces ...Deadwood) (Shape, error) {
	const what = "the deadwood cannot be used"
	if bare == nil || bare.Depth() == 0 {
		return nil, invalid(what, "shape", "the tank has no depth: deadwood needs levels")
	}
	full := bare.Depth()
	if len(pieces) > mostPieces {
		return nil, invalid(what, "pieces", "there are %d: expected at most %d", len(pieces), mostPieces)
	}
	for i, p := range pieces {
		where := "piece " + strconv.Itoa(i+1)
		switch {
		case !(p.From >= 0 && p.From < p.To && p.To <= full):
			return nil, invalid(what, where, "from %s to %s mm: expected two levels from 0 to %s mm, the lower one first",
				plain(p.From), plain(p.To), plain(full))
		case !(math.Abs(float64(p.Adds)) > 0 && math.Abs(float64(p.Adds)) <= float64(largest)):
			return nil, invalid(what, where, "%s L: expected a volume other than 0, at most %s L either way", plain(p.Adds), plain(largest))
		}
	}
	d := fitted{bare, slices.Clone(pieces)}
	if level, falls := d.standstill(); falls {
		return nil, invalid(what, "level "+plain(level)+" mm",
			"above it more is displaced than the tank holds there: check the volumes, or begin the lowest piece higher")
	}
	if capacity := Capacity(d); capacity > largest {
		return nil, invalid(what, "pieces", "the tank would hold %s L: expected at most %s L", plain(capacity), plain(largest))
	}
	return d, nil
}

// fitted is a shape with deadwood.
type fitted struct {
	bare   Shape
	pieces []Deadwood
}

func (d fitted) Depth() units.Millimetres { return d.bare.Depth() }

func (d fitted) Volume(depth units.Millimetres) units.Litres {
	return max(0, d.bare.Volume(depth)+d.added(depth))
}

// added is what the fittings add below a depth.
func (d fitted) added(depth units.Millimetres) units.Litres {
	var sum units.Litres
	for i := range d.pieces {
		p := &d.pieces[i]
		switch {
		case depth >= p.To:
			sum += p.Adds
		case depth > p.From:
			sum += p.Adds * units.Litres((depth-p.From)/(p.To-p.From))
		}
	}
	return sum
}

func (d fitted) capacity() units.Litres { return Capacity(d.bare) + d.added(d.Depth()) }

func (d fitted) kinks() []units.Millimetres {
	all := kinksOf(d.bare)
	for _, p := range d.pieces {
		all = append(all, p.From, p.To)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// kinksOf are the depths at which the slope of a shape is known to change, its ends among them.
func kinksOf(s Shape) []units.Millimetres {
	all := []units.Millimetres{0, s.Depth()}
	if k, ok := s.(interface{ kinks() []units.Millimetres }); ok {
		all = append(all, k.kinks()...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// standstill finds the lowest level above which the volume does not rise though a fitting displaces some. It looks
// closer at both ends of each stretch, since it is there that the section of a tank goes to nothing.
func (d fitted) standstill() (units.Millimetres, bool) {
	kinks := kinksOf(d)
	for i, from := range kinks[:len(kinks)-1] {
		to := kinks[i+1]
		if !d.displaced(from, to) {
			continue
		}
		before := from
		for _, share := range stretch {
			depth := from + share*(to-from)
			if share == 1 {
				depth = to
			}
			if depth > before && !(d.bare.Volume(depth)+d.added(depth) > d.bare.Volume(before)+d.added(before)) {
				return before, true
			}
			before = depth
		}
	}
	return 0, false
}

// displaced tells whether the fittings together take volume between two neighbouring kinks.
func (d fitted) displaced(from, to units.Millimetres) bool {
	rate := 0.0
	for _, p := range d.pieces {
		if p.From <= from && p.To >= to {
			rate += float64(p.Adds) / float64(p.To-p.From)
		}
	}
	return rate < 0
}

// stretch are shares of a stretch at which the rise of the volume is looked at.
var stretch = func() []units.Millimetres {
	var shares []units.Millimetres
	for _, end := range []units.Millimetres{1e-6, 1e-5, 1e-4, 1e-3, 1e-2} {
		shares = append(shares, end, 1-end)
	}
	for i := range 49 {
		shares = append(shares, units.Millimetres(i+1)/50)
	}
	shares = append(shares, 1)
	slices.Sort(shares)
	return shares
}()
