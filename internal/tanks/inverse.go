package tanks

import "overwinter/internal/units"

// DepthOf is the depth in mm at which a shape holds a volume in litres: the inverse of [Shape].Volume, the lowest
// depth where several hold as much. Where even the empty dip leaves liquid, in a sloping tank, what is less
// than that has depth 0, and what is more than can be dipped has the full depth.
//
// Tables are inverted row by row and upright tanks by division; all else by a bracketed search that ends when
// the depth is known to 1e-7 mm. It refuses a volume that is negative, above the capacity
// or no number, and a tank known by its capacity alone.
func DepthOf(s Shape, volume units.Litres) (units.Millimetres, error) {
	full := s.Depth()
	if full == 0 {
		return 0, invalid("there is no depth", "shape", "only the capacity of this tank is known: add a capacity table or dimensions")
	}
	if capacity := Capacity(s); !(volume >= 0 && volume <= capacity) {
		return 0, invalid("there is no depth", "volume", "%s L: expected 0 to %s L, the capacity of the tank", plain(volume), plain(capacity))
	}
	if known, ok := s.(interface {
		depthOf(units.Litres) units.Millimetres
	}); ok {
		return known.depthOf(volume), nil
	}
	return search(s, full, volume), nil
}

// closeEnough is how near, in mm, the search brings the ends of its bracket.
const closeEnough = 1e-7

// search finds the depth of a volume by false position, in which an end that stays twice counts half the second
// time (Illinois), and by halving where three such steps have not halved the bracket.
func search(s Shape, full units.Millimetres, volume units.Litres) units.Millimetres {
	excess := func(depth float64) float64 { return float64(s.Volume(units.Millimetres(depth)) - volume) }
	low, high := 0.0, float64(full)
	below, above := excess(low), excess(high)
	if below >= 0 {
		return 0
	}
	if above <= 0 {
		return full
	}
	moved, steps, before := 0, 0, high-low
	for high-low > closeEnough {
		guess := low - below*(high-low)/(above-below)
		if steps++; steps == 4 || !(guess > low && guess < high) {
			guess = low + (high-low)/2
		}
		if guess <= low || guess >= high { // no number is left between them
			break
		}
		f := excess(guess)
		if f == 0 {
			return units.Millimetres(guess)
		}
		side := 1
		if f < 0 {
			side = -1
			low, below = guess, f
		} else {
			high, above = guess, f
		}
		if side == moved && side < 0 {
			above /= 2
		} else if side == moved {
			below /= 2
		}
		moved = side
		if high-low <= before/2 || steps >= 4 {
			steps, before = 0, high-low
		}
	}
	return units.Millimetres(low + (high-low)/2)
}
