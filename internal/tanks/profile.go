package tanks

import "math"

// profile is the outline of a head on a tank of a radius R, in mm, from the tangent line to the tip. It curves only
// inward. Volumes are in mm³.
type profile interface {
	depth() float64 // from the tangent line to the tip
	// revolved is what lies between the tangent line and x: ∫π·r² dx.
	revolved(x float64) float64
	// nearTip is what lies within a height of the tip, without the loss of digits that a difference would
	// have there.
	nearTip(height float64) float64
	// lying is what a lying head holds below h, which is at most R.
	lying(h float64) float64
	// sloping is what it holds below a surface that rises or falls along the axis.
	sloping(s surface) float64
}

// flat is no head at all.
type flat struct{}

func (flat) depth() float64           { return 0 }
func (flat) revolved(float64) float64 { return 0 }
func (flat) nearTip(float64) float64  { return 0 }
func (flat) lying(float64) float64    { return 0 }
func (flat) sloping(surface) float64  { return 0 }

// ellipsoid is half of one, of which the half sphere is a case.
type ellipsoid struct{ radius, tip float64 }

func (e ellipsoid) depth() float64 { return e.tip }

func (e ellipsoid) revolved(x float64) float64 {
	u := x / e.tip
	return math.Pi * e.radius * e.radius * x * (1 - u*u/3)
}

func (e ellipsoid) nearTip(height float64) float64 {
	u := height / e.tip
	return math.Pi * e.radius * e.radius * height * u * (1 - u/3)
}

func (e ellipsoid) lying(h float64) float64 {
	return e.tip / e.radius * math.Pi * h * h * (e.radius - h/3) / 2
}

func (e ellipsoid) sloping(s surface) float64 {
	flatness := e.radius / e.tip
	return wetted(quadric{end: e.tip, r2: quadratic{e.radius * e.radius, 0, -flatness * flatness}}, s.overAxis(e.radius))
}

// cone draws in evenly.
type cone struct{ radius, tip float64 }

func (c cone) depth() float64 { return c.tip }

func (c cone) revolved(x float64) float64 {
	u := x / c.tip
	return math.Pi * c.radius * c.radius * x * (1 - u + u*u/3)
}

func (c cone) nearTip(height float64) float64 {
	u := height / c.tip
	return math.Pi * c.radius * c.radius * height * u * u / 3
}

// lying is a·R²/3·(θ − 2·sin θ·cos θ + cos³θ·artanh(sin θ)) with cos θ = 1 − h/R; where θ is small these terms cancel and the
// covered areas are summed over half the chord c, with r = √(c² + (R − h)²).
func (c cone) lying(h float64) float64 {
	distance, halfChord := c.radius-h, math.Sqrt(h*(2*c.radius-h))
	if halfChord < c.radius/3 {
		sum := 0.0
		for _, n := range even {
			x := halfChord * n.at
			sum += n.weight * cutOff(x, distance) * x / math.Sqrt(x*x+distance*distance)
		}
		return c.tip / c.radius * halfChord * sum
	}
	sin, cos := halfChord/c.radius, distance/c.radius
	bend := 0.0
	if distance > 0 {
		bend = cos * cos * cos * math.Asinh(halfChord/distance)
	}
	return c.tip * c.radius * c.radius / 3 * (math.Atan2(halfChord, distance) - 2*sin*cos + bend)
}

func (c cone) sloping(s surface) float64 {
	draw := c.radius / c.tip
	return wetted(quadric{end: c.tip, r2: quadratic{c.radius * c.radius, -2 * c.radius * draw, draw * draw}}, s.overAxis(c.radius))
}

// sphereCap is a cap of a sphere that is less than half of it. Its centre lies behind the tangent line.
type sphereCap struct{ radius, tip, behind float64 }

func newCap(radius, tip float64) sphereCap {
	return sphereCap{radius, tip, (radius - tip) * (radius + tip) / (2 * tip)}
}

func (c sphereCap) depth() float64 { return c.tip }

func (c sphereCap) revolved(x float64) float64 {
	return math.Pi * x * (c.radius*c.radius - x*(c.behind+x/3))
}

func (c sphereCap) nearTip(height float64) float64 {
	return math.Pi * height * height * (c.tip + c.behind - height/3)
}

func (c sphereCap) lying(h float64) float64 {
	return lyingCap(c.behind, math.Sqrt(h*(2*c.radius-h)), c.radius-h)
}

func (c sphereCap) sloping(s surface) float64 {
	return wetted(quadric{end: c.tip, r2: quadratic{c.radius * c.radius, -2 * c.behind, -1}}, s.overAxis(c.radius))
}

// lyingCap is the liquid in a lying cap of a sphere whose plane lies a way before the centre of the sphere, where the
// surface lies a distance below the axis and meets the plane in a chord. The surface cuts the sphere in a circle of radius p:
// along the axis the half chord is p·sin φ where the place is p·cos φ.
func lyingCap(before, halfChord, distance float64) float64 {
	p := math.Hypot(before, halfChord)
	end := halfChord / (p + before)
	sum := 0.0
	for i := range crowded {
		sin, _, weight := crowded[i].turn(end)
		sum += weight * sin * cutOff(p*sin, distance)
	}
	return p * sum
}
