package tanks

import "math"

// torisphere is a knuckle, a part of a torus, up to the seam, and a crown, a part of a sphere, from there.
type torisphere struct {
	radius, dish, knuckle float64
	tip, seam             float64 // from the tangent line
	drawn                 float64 // by how much the wall has drawn in at the seam
	before                float64 // from the centre of the crown's sphere to the seam
}

// newTorisphere joins a knuckle to a crown; all lengths in mm.
func newTorisphere(radius, dish, knuckle float64) torisphere {
	inner := radius - knuckle // where the centre of the knuckle lies
	// From the centre of the crown's sphere to the tangent line.
	behind := math.Sqrt((dish - knuckle - inner) * (dish - knuckle + inner))
	share := knuckle / (dish - knuckle)
	t := torisphere{radius: radius, dish: dish, knuckle: knuckle, tip: dish - behind, seam: share * behind}
	t.before = behind + t.seam
	t.drawn = t.seam * t.seam / (knuckle + inner*share)
	return t
}

func (t torisphere) depth() float64 { return t.tip }

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

func (t torisphere) lying(h float64) float64 {
	if h <= t.drawn {
		return t.lyingKnuckle(h, 1)
	}
	sin := math.Sqrt(t.drawn / h)
	halfChord := math.Sqrt((h - t.drawn) * (2*t.radius - h - t.drawn))
	return t.lyingKnuckle(h, sin/(1+math.Sqrt(1-t.drawn/h))) + lyingCap(t.before, halfChord, t.radius-h)
}

// lyingKnuckle is the liquid in the lying knuckle below h. The wall draws in by h·sin²ψ, so that the liquid is h·cos²ψ
// deep there, and x follows from x² = s·(2k − s) with s drawn in; end is tan ψ/2 at the end of the liquid.
func (t torisphere) lyingKnuckle(h, end float64) float64 {
	bent, sum := h/(2*t.knuckle), 0.0
	for i := range even {
		sin, cos, weight := even[i].turn(end)
		q := bent * sin * sin
		halfChord := cos * math.Sqrt(h*(2*t.radius-h-h*sin*sin))
		sum += weight * cos * (1 - 2*q) / math.Sqrt(1-q) * cutOff(halfChord, t.radius-h)
	}
	return 2 * t.knuckle * math.Sqrt(bent) * sum
}

func (t torisphere) sloping(s surface) float64 {
	r := t.radius - t.drawn
	crown := quadric{end: t.tip - t.seam, r2: quadratic{r * r, -2 * t.before, -1}}
	knuckle := torus{t.radius - t.knuckle, t.knuckle, math.Atan2(t.seam, t.radius-t.drawn-(t.radius-t.knuckle))}
	return wetted(knuckle, s.overAxis(t.radius)) + wetted(crown, surface{s.at(t.seam), s.rise}.overAxis(t.radius))
}
