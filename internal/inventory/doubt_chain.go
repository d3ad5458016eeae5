package inventory

import "math"

// The prices of explaining a row of readings away, in tenths of a reading. Two readings that agree with each
// other weigh more than a change without a record, and one that agrees with none weighs less; a rollover and a
// run of more than half the register happen, and are dearer together than one slip. Common practice, no source.
const (
	slipPrice     = 10
	changePrice   = 15
	rolloverPrice = 6
)

// chainBack is how many readings in a row may be slips.
const chainBack = 8

// step is how one reading follows on from another: at what price, with what roughness, or not at all.
type step struct {
	follows   bool
	price     int
	roughness float64
}

// chain finds the readings that follow on from each other best: fewest slips and changes first, then the
// evenest. A fixed reading is no slip. The answer gives the kept ones in order, and which of those do not
// follow on from the one kept before.
func chain(n int, fixed func(i int) bool, between func(i, j int) step) (kept []int, changed []bool) {
	type best struct {
		price     int
		roughness float64
		from      int
		changed   bool
	}
	if n == 0 {
		return nil, nil
	}
	less := func(a, b best) bool {
		return a.price < b.price || a.price == b.price && a.roughness < b.roughness
	}
	all := make([]best, n)
	leading := 0 // price of all before a reading being slips
	for j := range n {
		all[j] = best{price: leading, from: -1}
		if leading >= never || j > chainBack {
			all[j].price = never
		}
		if leading = leading + slipPrice; fixed(j) {
			leading = never
		}
		for i, skipped := j-1, 0; i >= 0 && j-i <= chainBack; i-- {
			if floor := all[i].price + skipped; floor <= all[j].price && floor < never {
				s := between(i, j)
				c := best{floor + s.price, all[i].roughness + s.roughness, i, !s.follows}
				if !s.follows {
					c.price = floor + changePrice
				}
				if less(c, all[j]) {
					all[j] = c
				}
			}
			if skipped += slipPrice; fixed(i) {
				break
			}
		}
	}
	end, trailing := n-1, 0
	last := all[end]
	for i := n - 1; i >= 0 && n-i <= chainBack; i-- {
		c := all[i]
		if c.price += trailing; c.price < last.price || c.price == last.price && c.roughness <= last.roughness {
			end, last = i, c
		}
		if trailing += slipPrice; fixed(i) {
			break
		}
	}
	for i := end; i >= 0; i = all[i].from {
		kept, changed = append(kept, i), append(changed, all[i].changed)
	}
	for i, j := 0, len(kept)-1; i < j; i, j = i+1, j-1 {
		kept[i], kept[j], changed[i], changed[j] = kept[j], kept[i], changed[j], changed[i]
	}
	return kept, changed
}

const never = math.MaxInt32
