package tanks

import "math"

// profile is the outline of a head on a tank of a radius R, in mm: at x beyond the tangent line its radius is
// R − sag(x). The sag is 0 at x = 0, rises to R at the tip, and curves only inward.
type profile interface {
	depth() float64          // from the tangent line to the tip
	sag(x float64) float64   // by how much the wall has drawn in at x
	reach(s float64) float64 // where it has drawn in by s: the inverse of sag
	joint() float64          // where the outline changes its formula; 0 where it has one alone
	// revolved is what lies between the tangent line and x, in mm³: ∫π·(R − sag)² dx.
	revolved(x float64) float64
	// nearTip is what lies within a height of the tip, in mm³, without the loss of digits that a difference
	// would have there.
	nearTip(height float64) float64
}

// flat is no head at all.
type flat struct{}

func (flat) depth() float64           { return 0 }
func (flat) sag(float64) float64      { return 0 }
func (flat) reach(float64) float64    { return 0 }
func (flat) joint() float64           { return 0 }
func (flat) revolved(float64) float64 { return 0 }
func (flat) nearTip(float64) float64  { return 0 }

// cone draws in evenly.
type cone struct{ radius, tip float64 }

func (c cone) depth() float64          { return c.tip }
func (c cone) sag(x float64) float64   { return c.radius * x / c.tip }
func (c cone) reach(s float64) float64 { return c.tip * s / c.radius }
func (c cone) joint() float64          { return 0 }

func (c cone) revolved(x float64) float64 {
	u := x / c.tip
	return math.Pi * c.radius * c.radius * x * (1 - u + u*u/3)
}

func (c cone) nearTip(height float64) float64 {
	u := height / c.tip
	return math.Pi * c.radius * c.radius * height * u * u / 3
}

// ellipsoid is half of one, of which the half sphere is a case.
type ellipsoid struct{ radius, tip float64 }

func (e ellipsoid) depth() float64 { return e.tip }
func (e ellipsoid) joint() float64 { return 0 }

func (e ellipsoid) sag(x float64) float64 {
	u := x / e.tip
	return e.radius * u * u / (1 + math.Sqrt(max(0, 1-u*u)))
}

func (e ellipsoid) reach(s float64) float64 {
	return e.tip * math.Sqrt(s*(2*e.radius-s)) / e.radius
}

func (e ellipsoid) revolved(x float64) float64 {
	u := x / e.tip
	return math.Pi * e.radius * e.radius * x * (1 - u*u/3)
}

func (e ellipsoid) nearTip(height float64) float64 {
	u := height / e.tip
	return math.Pi * e.radius * e.radius * height * u * (1 - u/3)
}

// sphereCap is a cap of a sphere that is less than half of it. Its centre lies behind the tangent line.
type sphereCap struct{ radius, tip, behind float64 }

func newCap(radius, tip float64) sphereCap {
	return sphereCap{radius, tip, (radius - tip) * (radius + tip) / (2 * tip)}
}

func (c sphereCap) depth() float64 { return c.tip }
func (c sphereCap) joint() float64 { return 0 }

func (c sphereCap) sag(x float64) float64 {
	lost := x * (x + 2*c.behind) // R² − r²
	return lost / (c.radius + math.Sqrt(max(0, c.radius*c.radius-lost)))
}

func (c sphereCap) reach(s float64) float64 {
	lost := s * (2*c.radius - s)
	return lost / (c.behind + math.Sqrt(c.behind*c.behind+lost))
}

func (c sphereCap) revolved(x float64) float64 {
	return math.Pi * x * (c.radius*c.radius - x*(c.behind+x/3))
}

func (c sphereCap) nearTip(height float64) float64 {
	return math.Pi * height * height * (c.tip + c.behind - height/3)
}

// torisphere is a knuckle, a part of a torus, up to the joint, and a crown, a part of a sphere, from there.
type torisphere struct {
	radius, dish, knuckle float64
	tip, seam             float64
	centre                float64 // of the crown's sphere; below 0, behind the tangent line
}

func (t torisphere) depth() float64 { return t.tip }
func (t torisphere) joint() float64 { return t.seam }

func (t torisphere) sag(x float64) float64 {
	if x <= t.seam {
		return x * x / (t.knuckle + math.Sqrt(max(0, t.knuckle*t.knuckle-x*x)))
	}
	// r² = dish² − (x − centre)², written from the tip, where it is 0.
	return t.radius - math.Sqrt(max(0, (t.tip-x)*(t.dish+x-t.centre)))
}

func (t torisphere) reach(s float64) float64 {
	if x := math.Sqrt(s * (2*t.knuckle - s)); s <= t.knuckle && x <= t.seam {
		return x
	}
	r := t.radius - s
	// From the tip, so that nothing cancels there.
	return t.tip - r*r/(t.dish+math.Sqrt((t.dish-r)*(t.dish+r)))
}

func (t torisphere) revolved(x float64) float64 {
	v := t.inKnuckle(min(x, t.seam))
	if x > t.seam {
		v += t.nearTip(t.tip-t.seam) - t.nearTip(t.tip-x)
	}
	return v
}

// inKnuckle is the volume between the tangent line and x: ∫π·(c + √(k² − x²))² dx with c = R − k.
func (t torisphere) inKnuckle(x float64) float64 {
	c, k := t.radius-t.knuckle, t.knuckle
	root := math.Sqrt(max(0, k*k-x*x))
	return math.Pi * (x*(c*c+k*k-x*x/3) + c*(x*root+k*k*math.Asin(min(1, x/k))))
}

// nearTip is a cap of the crown's sphere, and beyond it part of the knuckle.
func (t torisphere) nearTip(height float64) float64 {
	if crown := t.tip - t.seam; height > crown {
		return t.nearTip(crown) + t.inKnuckle(t.seam) - t.inKnuckle(t.tip-height)
	}
	return math.Pi * height * height * (t.dish - height/3)
}
