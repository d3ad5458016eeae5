package tanks

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// node is a point of a rule of integration, with its weight.
type node struct{ at, weight float64 }

// Rules on [0, 1] with as many points as give a head to 1e-11 of its volume at every depth (computed), since
// the substitutions of the heads leave nothing but smooth integrands.
var (
	even = gauss(func(t float64) (x, dx float64) { return t, 1 })
	// crowded has its points closer toward 0: toward the tip of a cap, where the covered area changes fast when the surface
	// lies close to the axis.
	crowded = gauss(func(t float64) (x, dx float64) { return t * t, 2 * t })
)

// gauss is the rule of Gauss and Legendre for the integral over t of f(x(t))·dx/dt.
func gauss(substitute func(t float64) (x, dx float64)) (nodes [20]node) {
	var t, w [len(nodes)]float64
	quad.Legendre{}.FixedLocations(t[:], w[:], 0, 1)
	for i := range nodes {
		x, dx := substitute(t[i])
		nodes[i] = node{x, dx * w[i]}
	}
	return nodes
}

// turn is sin φ and cos φ with the weight dφ at a node of a rule in tan φ/2 that runs from 0 to end: the half angle makes
// all three rational.
func (n node) turn(end float64) (sin, cos, weight float64) {
	t := n.at * end
	d := 1 / (1 + t*t)
	return 2 * t * d, (1 - t*t) * d, 2 * d * n.weight * end
}

// reach is how far a substitution looks beyond a panel for the next branch point, in lengths of the panel. Branch points
// farther off do not disturb the rule.
const reach = 10

// panel integrates f from one point to another where f goes like a power of a half at the branch points before and
// behind them, which may be infinitely far off: x = middle + half·sin φ takes both out.
func panel(from, to, before, behind float64, f func(float64) float64) float64 {
	span := to - from
	before, behind = max(before, from-reach*span), min(behind, to+reach*span)
	middle, half := (before+behind)/2, (behind-before)/2
	angle := func(x float64) float64 {
		return math.Atan2(x-middle, math.Sqrt(max(0, (x-before)*(behind-x))))
	}
	start := angle(from)
	sweep := angle(to) - start
	sum := 0.0
	for _, n := range even {
		sin, cos := math.Sincos(start + sweep*n.at)
		sum += n.weight * cos * f(middle+half*sin)
	}
	return half * sweep * sum
}
