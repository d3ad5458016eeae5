package tanks

import (
	"math"

	"overwinter/internal/units"
)

// inverter is what a shape may offer where its volume can be turned round exactly, for any volume from 0 to its
// capacity: the lowest depth that holds it.
type inverter interface {
	depthOf(volume units.Litres) units.Millimetres
}

// DepthOf is the lowest depth in mm at which a shape holds a volume in litres: the inverse of [Shape].Volume. Where even
// the empty dip leaves liquid, over a sump or in a sloping tank, what is less than that has depth 0, and what is more than can
// be dipped has the full depth.
//
// Tables are inverted row by row and boxes by division; all else by a bracketed search that ends when the depth is known
// to 1e-12 of the full depth. A volume may pass the capacity by what rounding leaves, 1e-12 of it. It refuses a volume that is
// negative, above the capacity or no number, and a tank known by its capacity alone.
func DepthOf(s Shape, volume units.Litres) (units.Millimetres, error) {
	full := s.Depth()
	if full == 0 {
		return 0, invalid("there is no depth", "shape", "only the capacity of this tank is known: add a capacity table or dimensions")
	}
	if capacity := Capacity(s); !(volume >= 0 && volume <= capacity*(1+1e-12)) {
		return 0, invalid("there is no depth", "volume", "%s L: expected 0 to %s L, the capacity of the tank", plain(volume), plain(capacity))
	}
	if exact, ok := s.(inverter); ok {
		return min(full, exact.depthOf(volume)), nil
	}
	return search(s, full, volume), nil
}

// search closes in on the lowest depth that holds a volume by interpolation, truncation and projection (I. Oliveira and
// R. Takahashi, "An Enhancement of the Bisection Method Average Performance Preserving Minmax Optimality", ACM Transactions
// on Mathematical Software 47, 2020; constants from memory): as fast as false position where the curve is smooth, and no more than one
// step slower than halving where it is not. Throughout, low holds less than the volume and high at least as much.
func search(s Shape, full units.Millimetres, volume units.Litres) units.Millimetres {
	missing := func(depth float64) float64 { return float64(s.Volume(units.Millimetres(depth)) - volume) }
	low, high := 0.0, float64(full)
	below, above := missing(low), missing(high)
	if below >= 0 {
		return 0
	}
	if above < 0 {
		return full
	}
	const share = 0.5e-12 // of the full depth, that the bracket may keep to either side
	tolerance, pull := share*high, 0.2/high
	// How far from the middle of the bracket a step may go; it halves each time.
	leeway := tolerance * math.Exp2(1+math.Ceil(math.Log2(0.5/share)))
	for high-low > 2*tolerance {
		// Never nearer to an end than the answer need be: so a depth that is hit exactly is left when the volume is level below it.
		next := min(max(guess(low, high, below, above, pull, leeway), low+tolerance), high-tolerance)
		if y := missing(next); y < 0 {
			low, below = next, y
		} else {
			high, above = next, y
		}
		leeway /= 2
	}
	return units.Millimetres(high)
}

// guess is the next depth to try: the secant's, drawn a little toward the middle of the bracket and no farther from it than
// halving would have had to be by now.
func guess(low, high, below, above, pull, leeway float64) float64 {
	width, middle := high-low, low+(high-low)/2
	secant := low - below*(width/(above-below))
	toward := math.Copysign(1, middle-secant)
	next := middle
	if cut := pull * width * width; cut < math.Abs(middle-secant) {
		next = secant + toward*cut
	}
	if room := max(0, leeway-width/2); math.Abs(next-middle) > room {
		next = middle - toward*room
	}
	return next
}
