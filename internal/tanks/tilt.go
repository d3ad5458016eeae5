package tanks

import "overwinter/internal/units"

// sloping is a lying cylinder whose axis is not level.
type sloping struct {
	level headed
	slope float64 // drop toward the left end over the run along the ground
	dipMM float64 // from the left tangent line
	full  units.Litres
}

func (t sloping) Depth() units.Millimetres { return t.level.Depth() }

func (t sloping) capacity() units.Litres { return t.full }

func (t sloping) Volume(depth units.Millimetres) units.Litres {
	h, radius, length := float64(clampDepth(t, depth)), t.level.radiusMM, t.level.lengthMM
	atLeft, atRight := h+t.dipMM*t.slope, h+(t.dipMM-length)*t.slope
	shell := quadric{end: length, r2: quadratic{radius * radius, 0, 0}}
	volume := wetted(shell, surface{atLeft, -t.slope}.overAxis(radius)) +
		t.level.left.sloping(surface{atLeft, t.slope}) +
		t.level.right.sloping(surface{atRight, -t.slope})
	return min(units.Litres(volume/cubicMillimetresPerLitre), t.full) // whatever rounding makes of a full tank
}
