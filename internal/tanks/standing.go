package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Standing describes an upright cylinder with its bottom and its fixed roof; all lengths are inside lengths.
type Standing struct {
	Diameter units.Millimetres
	Height   units.Millimetres // of the straight shell
	Bottom   Head              // the zero Head is flat
	// BottomRises tells that the bottom curves up into the tank and not down from it.
	BottomRises bool
	Roof        Head // above the shell; what it holds counts as capacity
}

// StandingCylinder is an upright cylinder with its bottom and its roof. Depths are counted from the lowest point: the tip of
// a bottom that hangs down, or the foot of the shell. Volumes are those of bodies of revolution in closed
// form: a cone's 1/3·π·r²·h, a sphere's cap π·h²·(ρ − h/3), half an ellipsoid's, a torus's and what
// lies between them, from elementary geometry.
//
// Roofs are seldom filled: set the safe fill below. It refuses dimensions that cannot be, and a bottom
// that rises as high as the shell.
func StandingCylinder(t Standing) (Shape, error) {
	if err := checkLengths(named{"diameter", t.Diameter}, named{"height", t.Height}); err != nil {
		return nil, err
	}
	bottom, err := t.Bottom.profile("bottom", t.Diameter)
	if err != nil {
		return nil, err
	}
	roof, err := t.Roof.profile("roof", t.Diameter)
	if err != nil {
		return nil, err
	}
	if t.BottomRises && bottom.depth() >= float64(t.Height) {
		return nil, invalid("the tank cannot be used", "bottom depth", "it rises %s mm: expected less than the height of the shell, %s mm",
			plain(bottom.depth()), plain(t.Height))
	}
	return fit(standing{float64(t.Diameter) / 2, float64(t.Height), bottom, roof, t.BottomRises})
}

type standing struct {
	radius, height float64
	bottom, roof   profile
	rises          bool
}

// foot is the height of the foot of the shell above the lowest point.
func (t standing) foot() float64 {
	if t.rises {
		return 0
	}
	return t.bottom.depth()
}

func (t standing) Depth() units.Millimetres {
	return units.Millimetres(t.foot() + t.height + t.roof.depth())
}

func (t standing) Volume(depth units.Millimetres) units.Litres {
	h, foot := float64(clampDepth(t, depth)), t.foot()
	volume := t.atBottom(h)
	if h > foot {
		volume += math.Pi * t.radius * t.radius * min(h-foot, t.height)
	}
	if above := h - foot - t.height; above > 0 {
		volume += t.roof.revolved(min(above, t.roof.depth()))
	}
	return units.Litres(max(0, volume) / cubicMillimetresPerLitre)
}

// atBottom is what the bottom adds to the shell below h: what hangs under its foot, or, below 0, what rises into it.
func (t standing) atBottom(h float64) float64 {
	h = min(h, t.bottom.depth())
	if t.rises {
		return -t.bottom.revolved(h)
	}
	return t.bottom.nearTip(h)
}
