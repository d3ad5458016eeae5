package tanks

import "math"

// segment is the area of the segment of a circle that liquid of a depth covers, in the square of the unit
// of its arguments: r²·(θ − sin θ·cos θ) with 1 − cos θ = depth/r, from elementary geometry. A depth
// outside the circle counts as the nearer end. It keeps its relative accuracy down to the smallest depth.
func segment(radius, depth float64) float64 {
	switch {
	case !(depth > 0 && radius > 0):
		return 0
	case depth >= 2*radius:
		return math.Pi * radius * radius
	case depth > radius:
		return math.Pi*radius*radius - segment(radius, 2*radius-depth)
	}
	// With the whole angle u = 2θ the area is r²/2·(u − sin u), whose terms cancel where u is small.
	u := 4 * math.Asin(math.Sqrt(depth/(2*radius)))
	return radius * radius / 2 * lessSine(u)
}

// lessSine is u − sin u for 0 ≤ u ≤ π.
func lessSine(u float64) float64 {
	if u > 1 {
		return u - math.Sin(u)
	}
	// The power series of the sine; at u = 1 the first term left out is below 1e-17 of the sum.
	s, sum := u*u, 0.0
	for n := 17.0; n >= 5; n -= 2 {
		sum = s / (n * (n - 1)) * (1 - sum)
	}
	return u * s / 6 * (1 - sum)
}
