package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Lying describes a lying cylinder with its heads; all lengths are inside lengths.
type Lying struct {
	Diameter    units.Millimetres
	Length      units.Millimetres // of the straight shell, from tangent line to tangent line
	Left, Right Head              // the zero Head is flat
	// Slope is how much the tank drops toward its left end: the drop over the run along the ground, which is the
	// tangent of the angle; below 0 the right end lies lower. 0 is level. At most ±0.2.
	Slope float64
	// DipAt is where a sloping tank is dipped, along the axis from the left tangent line. It is not used where the
	// tank is level.
	DipAt units.Millimetres
}

const (
	// steepest is the greatest slope: more than 11° is a slip of a unit, or no tank that was set up to hold fuel.
	steepest = 0.2
	// flattest is the least slope that is not taken as level: a millionth of a millimetre on a metre.
	flattest = 1e-9
)

// LyingCylinder is a lying cylinder with heads.
//
// Level, a volume is that of the shell, [HorizontalCylinder], and of the two heads, each the integral along the axis of the
// segment of a circle that the liquid covers there: in closed form for ellipsoids, (a/R)·π·h²·(R − h/3)/2, and for cones,
// (a·R²/3)·(θ − 2·sin θ·cos θ + cos³θ·artanh(sin θ)) with cos θ = 1 − h/R, above the lowest part where its terms cancel; by
// Gauss and Legendre for the others, right to 1e-11 of the volume at every depth (computed). Above the middle it is the
// whole less what the same tank holds up to the same distance from its bottom. Source: elementary geometry; worked cases of
// D. Jones, "Calculating Tank Volume". The inside length may be 0 between two heads that are not flat, which makes a sphere of two half
// spheres.
//
// Sloping, the surface stands at another depth at each point of the axis, h + (DipAt − x)·Slope, and shell and heads are
// integrated so. A depth is counted from the bottom line square to the axis at DipAt. A stick that hangs plumb and
// touches the bottom there reads less by the cosine of the slope's angle: divide its reading by it, which at a slope of 0.02
// is 0.02 % and at 0.2 is 2 %. Between depth 0 and the inside diameter the dip does not see all: at depth 0 the tank
// may still hold liquid at its low end, which is then the volume; and when the surface stands at the top of the tank at the
// dip there may still be room at its high end, which [Capacity] counts and no depth shows. [DepthOf] gives the nearer end
// for such volumes.
//
// It refuses a length or a head that cannot be, a slope steeper than 0.2, and a dip beyond the shell.
func LyingCylinder(t Lying) (Shape, error) {
	round := t.Length == 0 && t.Left.kind != flatHead && t.Right.kind != flatHead // a sphere, or two dished heads
	lengths := []named{{"diameter", t.Diameter}, {"length", t.Length}}
	if round {
		lengths = lengths[:1]
	}
	if err := checkLengths(lengths...); err != nil {
		return nil, err
	}
	left, err := t.Left.profile("left head", t.Diameter)
	if err != nil {
		return nil, err
	}
	right, err := t.Right.profile("right head", t.Diameter)
	if err != nil {
		return nil, err
	}
	if round && (left.depth() == 0 || right.depth() == 0) {
		return nil, invalid("the tank cannot be used", "length", "0 mm is no inside length of a tank with a flat head: expected more than 0")
	}
	shell := lyingCylinder{float64(t.Diameter) / 2, float64(t.Length)}
	level := headed{shell, left, right}
	if math.Abs(t.Slope) < flattest {
		return fit(level)
	}
	if !(math.Abs(t.Slope) <= steepest) {
		return nil, invalid("the tank cannot be used", "slope",
			"%s: expected −%s to %s, the drop over the run", plain(t.Slope), plain(steepest), plain(steepest))
	}
	if !(t.DipAt >= 0 && t.DipAt <= t.Length) {
		return nil, invalid("the tank cannot be used", "dip position",
			"%s mm from the left tangent line: expected 0 to %s mm, where the shell is", plain(t.DipAt), plain(t.Length))
	}
	return fit(sloping{level, t.Slope, float64(t.DipAt), Capacity(level)})
}

// fit refuses a tank that holds more than any does.
func fit(s Shape) (Shape, error) {
	if full := Capacity(s); !(full <= largest) {
		return nil, invalid("the tank cannot be used", "capacity", "%s L by its dimensions: expected at most %s L",
			plain(full), plain(largest))
	}
	return s, nil
}

// headed is a level lying cylinder with heads.
type headed struct {
	lyingCylinder
	left, right profile
}

func (t headed) Volume(depth units.Millimetres) units.Litres {
	h := float64(clampDepth(t, depth))
	heads := t.lyingHead(t.left, h)
	if t.right == t.left {
		heads *= 2
	} else {
		heads += t.lyingHead(t.right, h)
	}
	return units.Litres((segment(t.radiusMM, h)*t.lengthMM + heads) / cubicMillimetresPerLitre)
}

// lyingHead is the liquid in a lying head below h, in mm³.
func (t headed) lyingHead(p profile, h float64) float64 {
	if h > t.radiusMM {
		return p.revolved(p.depth()) - p.lying(max(0, 2*t.radiusMM-h))
	}
	return p.lying(h)
}
