package tanks

import (
	"slices"

	"overwinter/internal/units"
)

// sloping is a lying cylinder whose axis is not level.
type sloping struct {
	level headed
	slope float64 // drop toward the left end over the length
	dipMM float64 // from the left tangent line
}

func (t sloping) Depth() units.Millimetres { return t.level.Depth() }

func (t sloping) capacity() units.Litres { return Capacity(t.level) }

func (t sloping) Volume(depth units.Millimetres) units.Litres {
	h, length := float64(clampDepth(t, depth)), t.level.lengthMM
	volume := t.part(flat{}, length, surface{h + t.dipMM*t.slope, -t.slope}) +
		t.part(t.level.left, t.level.left.depth(), surface{h + t.dipMM*t.slope, t.slope}) +
		t.part(t.level.right, t.level.right.depth(), surface{h + (t.dipMM-length)*t.slope, -t.slope})
	return min(units.Litres(volume/cubicMillimetresPerLitre), t.capacity()) // whatever rounding makes of a full tank
}

// surface is the line of the liquid along a part of the tank: its height above the bottom line at u, counted
// from where the part begins.
type surface struct{ begin, rise float64 }

func (s surface) at(u float64) float64 { return s.begin + s.rise*u }

// part is the liquid, in mm³, in a part of the tank that is as long as end: the shell, which draws in nowhere, or
// a head.
func (t sloping) part(p profile, end float64, s surface) float64 {
	radius := t.level.radiusMM
	// Both curve downward, since the wall only draws in further: each is above 0 in one stretch at most.
	wet := func(u float64) float64 { return s.at(u) - p.sag(u) }
	open := func(u float64) float64 { return 2*radius - p.sag(u) - s.at(u) }
	bounds := append(make([]float64, 0, 7), 0, p.joint(), end)
	bounds = crossings(crossings(bounds, wet, end), open, end)
	slices.Sort(bounds)
	volume := 0.0
	for i := 1; i < len(bounds); i++ {
		from, to := bounds[i-1], bounds[i]
		middle, half := (from+to)/2, (to-from)/2
		switch {
		case half <= 0 || wet(middle) <= 0:
		case open(middle) <= 0:
			volume += t.full(p, from, to)
		default:
			volume += panel(&across, middle, half, func(u float64) float64 {
				drawn := p.sag(u)
				return segment(radius-drawn, s.at(u)-drawn)
			})
		}
	}
	return volume
}

// full is what lies between two points of a part that is full there.
func (t sloping) full(p profile, from, to float64) float64 {
	if p == (flat{}) {
		return segment(t.level.radiusMM, 2*t.level.radiusMM) * (to - from)
	}
	return p.revolved(to) - p.revolved(from)
}

// crossings appends where a function that curves downward is 0 between 0 and end: none, one or two points.
func crossings(at []float64, f func(float64) float64, end float64) []float64 {
	top := peak(f, end)
	if f(top) <= 0 {
		return at
	}
	for _, far := range []float64{0, end} {
		if f(far) < 0 {
			at = append(at, between(f, far, top))
		}
	}
	return at
}

// halvings end when the interval has no number left between its ends: a double has 53 bits, and a few more
// where the end is 0.
const halvings = 70

// peak is where a function that curves downward is highest between 0 and end.
func peak(f func(float64) float64, end float64) float64 {
	low, high := 0.0, end
	for range halvings {
		a, b := low+(high-low)/3, high-(high-low)/3
		if f(a) < f(b) {
			low = a
		} else {
			high = b
		}
	}
	best := (low + high) / 2
	for _, u := range []float64{0, end} { // where it is straight, an end may be the highest
		if f(u) > f(best) {
			best = u
		}
	}
	return best
}

// between is where a function changes its sign from a point below 0 to a point above.
func between(f func(float64) float64, below, above float64) float64 {
	for range halvings {
		middle := (below + above) / 2
		if f(middle) < 0 {
			below = middle
		} else {
			above = middle
		}
	}
	return above
}
