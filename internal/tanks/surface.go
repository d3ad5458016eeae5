package tanks

import "math"

// surface is the line of the liquid along a part of a sloping tank: its height at u, counted along the axis from where the
// part begins.
type surface struct{ begin, rise float64 }

func (s surface) at(u float64) float64 { return s.begin + s.rise*u }

// overAxis counts the height from the axis, where it was counted from the bottom line.
func (s surface) overAxis(radius float64) surface { return surface{s.begin - radius, s.rise} }

// outline is a part of a sloping tank, round about the axis, followed by a parameter t.
type outline interface {
	ends() (from, to float64)
	// at is the place along the axis, the radius there, and how fast the place moves with t.
	at(t float64) (x, r, dx float64)
	// partly is the stretch of t, beyond the ends if need be, where the surface meets the wall left and right: before and
	// behind it the part is full or dry. It is empty, its begin not below its end, where there is none.
	partly(s surface) (begin, end float64)
	// whole is the volume between two values of t.
	whole(from, to float64) float64
}

// wetted is the volume of a part below a surface counted from the axis, in mm³.
func wetted[O outline](o O, s surface) float64 {
	from, to := o.ends()
	before, behind := o.partly(s)
	begin := max(from, min(before, to))
	end := max(begin, min(behind, to))
	volume := 0.0
	for _, rest := range [2][2]float64{{from, begin}, {end, to}} {
		if x, _, _ := o.at((rest[0] + rest[1]) / 2); rest[0] < rest[1] && s.at(x) > 0 {
			volume += o.whole(rest[0], rest[1])
		}
	}
	if begin < end {
		volume += panel(begin, end, before, behind, func(t float64) float64 {
			x, r, dx := o.at(t)
			return dx * below(r, s.at(x))
		})
	}
	return volume
}

// below is the part of a circle below a level that is counted from its middle.
func below(radius, level float64) float64 {
	halfChord := math.Sqrt(max(0, (radius-level)*(radius+level)))
	if level <= 0 {
		return cutOff(halfChord, -level)
	}
	return math.Pi*radius*radius - cutOff(halfChord, level)
}

// quadratic is a + b·x + c·x².
type quadratic struct{ a, b, c float64 }

func (q quadratic) at(x float64) float64 { return q.a + x*(q.b+x*q.c) }

// roots are where it is 0, the lower first; ok is false where it is nowhere so.
func (q quadratic) roots() (low, high float64, ok bool) {
	d := q.b*q.b - 4*q.a*q.c
	if !(d > 0) {
		return 0, 0, false
	}
	// The sum whose terms have one sign, so that no digits are lost.
	sum := -(q.b + math.Copysign(math.Sqrt(d), q.b)) / 2
	first, second := q.a/sum, math.Inf(1)
	if q.c != 0 {
		second = sum / q.c
	}
	return min(first, second), max(first, second), true
}

// quadric is a part whose square of the radius is a quadratic of the place: shell, cone, cap or ellipsoid. The parameter is
// the place itself.
type quadric struct {
	end float64
	r2  quadratic
}

func (q quadric) ends() (from, to float64) { return 0, q.end }

func (q quadric) at(x float64) (place, r, dx float64) {
	return x, math.Sqrt(max(0, q.r2.at(x))), 1
}

// partly is where r² is more than the square of the surface's height over the axis.
func (q quadric) partly(s surface) (begin, end float64) {
	over := quadratic{q.r2.a - s.begin*s.begin, q.r2.b - 2*s.begin*s.rise, q.r2.c - s.rise*s.rise}
	low, high, ok := over.roots()
	switch {
	case over.c < 0 && ok:
		return low, high
	case over.c < 0:
		return 0, 0
	case ok: // a cone, whose walls draw in faster than the surface rises: up to where it meets one of them
		return math.Inf(-1), low
	}
	return math.Inf(-1), math.Inf(1)
}

func (q quadric) whole(from, to float64) float64 {
	return math.Pi * (to - from) * (q.r2.a + q.r2.b*(from+to)/2 + q.r2.c*(from*from+from*to+to*to)/3)
}

// torus is a knuckle: at the angle t the place is k·sin t and the radius inner + k·cos t.
type torus struct{ inner, knuckle, end float64 }

func (o torus) ends() (from, to float64) { return 0, o.end }

func (o torus) at(t float64) (x, r, dx float64) {
	sin, cos := math.Sincos(t)
	return o.knuckle * sin, o.inner + o.knuckle*cos, o.knuckle * cos
}

// partly is where the radius is above the surface's height and above its depth below the axis. Each is a cosine,
// inner ∓ begin + k·√(1 + rise²)·cos(t ± β) > 0 with tan β = rise.
func (o torus) partly(s surface) (begin, end float64) {
	swing, lean := o.knuckle*math.Hypot(1, s.rise), math.Atan(s.rise)
	top, bottom := aboveZero((o.inner-s.begin)/swing), aboveZero((o.inner+s.begin)/swing)
	return max(-top-lean, lean-bottom), min(top-lean, bottom+lean)
}

// aboveZero is how far to either side of 0 the sum of a constant and a cosine stays above 0.
func aboveZero(constant float64) float64 {
	switch {
	case constant >= 1:
		return math.Inf(1)
	case constant <= -1:
		return math.Inf(-1)
	}
	return math.Acos(-constant)
}

func (o torus) whole(from, to float64) float64 {
	return o.upTo(to) - o.upTo(from)
}

// upTo is ∫π·r² dx from the tangent line.
func (o torus) upTo(t float64) float64 {
	sin, cos := math.Sincos(t)
	c, k := o.inner, o.knuckle
	return math.Pi * k * (sin*(c*c+k*k-k*k*sin*sin/3) + c*k*(sin*cos+t))
}
