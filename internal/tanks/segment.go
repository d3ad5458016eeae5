package tanks

import "math"

// segment is the area of the segment of a circle that liquid of a depth covers, in the square of the unit
// of its arguments: A = r²·θ − (r − h)·c with c = √(h·(2r − h)), half the chord, and tan θ = c/(r − h), from
// elementary geometry. A depth outside the circle counts as the nearer end. It keeps its relative
// accuracy down to the smallest depth.
func segment(radius, depth float64) float64 {
	switch {
	case !(depth > 0 && radius > 0):
		return 0
	case depth >= 2*radius:
		return math.Pi * radius * radius
	case depth > radius:
		return math.Pi*radius*radius - segment(radius, 2*radius-depth)
	}
	return cutOff(math.Sqrt(depth*(2*radius-depth)), radius-depth)
}

// cutOff is the area between a chord and the arc below it, where the middle of the chord lies at a distance
// of 0 or more from the middle of the circle: (c² + d²)·atan(c/d) − c·d.
func cutOff(halfChord, distance float64) float64 {
	if halfChord > distance/8 {
		return (halfChord*halfChord+distance*distance)*math.Atan2(halfChord, distance) - halfChord*distance
	}
	if halfChord == 0 {
		return 0
	}
	// The two terms cancel, so their power series: d²·Σ −(−1)ⁿ·2·tⁿ⁺ⁿ⁺¹/((2n − 1)(2n + 1)) with t = c/d.
	t := halfChord / distance
	s := t * t
	sum := 2.0/3 - s*(2.0/15-s*(2.0/35-s*(2.0/63-s*(2.0/99-s*(2.0/143-s*(2.0/195-s*2/255))))))
	return halfChord * halfChord * t * sum
}
