package tanks

import (
	"math"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// condition is a temperature and a pressure, as they are and as a law wants them.
type condition struct {
	t                 units.Celsius
	gauge             units.KiloPascals
	degrees, pressure float64
}

func (s scale) at(t units.Celsius, gauge units.KiloPascals) condition {
	return condition{t: t, gauge: gauge, degrees: s.degrees(float64(t)), pressure: s.pressure(gauge)}
}

// String names the condition for people.
func (at condition) String() string {
	where := plain(at.t) + " °C"
	if at.gauge != 0 {
		where += " and " + plain(at.gauge) + " kPa"
	}
	return where
}

// density gives the density at a condition of a fuel with a density at the own base, and how fast the
// one rises with the other (from differentiating ρ·CTL·CPL, without the small change of ρ* against ρ).
func (l *law) density(b *band, own float64, at condition) (density, slope float64) {
	entered := l.scale.inScale(b.coefficients, own)
	alpha, steepness := b.expansionAt(entered)
	rise := alpha * (at.degrees - l.scale.origin())
	ratio := math.Exp(l.scale.expansion(alpha, at.degrees))
	slope = 1 + steepness*rise*(1+1.6*rise)
	if at.pressure > 0 {
		q := l.scale.squeeze()
		f := q.factor(entered, at.degrees)
		cpl := q.cpl(f, at.pressure)
		ratio *= cpl
		slope -= 2 * cpl * q.unit * at.pressure * f * (q.c + q.d*at.degrees) / (entered * entered)
	}
	return own * ratio, ratio * slope
}

// slack is how far beyond the outermost densities an observed one may lie, in kg/m³: what arithmetic
// loses on the way from a base density to an observed one.
const slack = 1e-9

// solve finds the density at the own base, and the class, of a fuel that has the observed density at a
// condition: in the heaviest class that has it, and where it falls between two classes, at their bound.
func (l *law) solve(observed float64, at condition) (float64, *band, error) {
	top := l.heaviest
	for i := range l.bands {
		b := &l.bands[i]
		own, miss, steps := l.within(b, top, observed, at)
		switch {
		case steps > mostSteps:
			return 0, nil, fault.New(fault.Internal, "the density at the base was not found in %d steps", mostSteps)
		case math.Abs(miss) <= slack:
			return own, b, nil
		case miss > 0 && i > 0:
			return top, &l.bands[i-1], nil
		case !(miss < 0):
			return 0, nil, l.outside(observed, at)
		}
		top = b.from
	}
	return 0, nil, l.outside(observed, at)
}

// outside is the error of a density that no fuel of the group has at a condition.
func (l *law) outside(observed float64, at condition) error {
	first, last := &l.bands[0], &l.bands[len(l.bands)-1]
	lightest, _ := l.density(last, last.from, at)
	heaviest, _ := l.density(first, l.heaviest, at)
	return outside(observed, at.String(), lightest, heaviest)
}

// mostSteps bounds the iteration. Newton's method has needed at most 5 steps over the whole range, and 10
// for special applications in their odd corner (TestTheIterationEndsWithinAFewSteps); halving alone would need 43.
const mostSteps = 60

// within solves inside one class, by Newton's method, and by halving where that would leave what is still
// possible. It stops at a step of Newton's of less than 1e-8 of the density, or a halving of less than
// 1e-13, which leaves it right to 1e-13 of itself. miss is by how much the observed density lies above that
// of the upper end of the class, or, being negative, below that of the lower; else it is 0.
func (l *law) within(b *band, top, observed float64, at condition) (own, miss float64, steps int) {
	low, high := b.from, top
	lowTried, highTried := false, false
	own = min(max(observed, low), high)
	for steps = 1; steps <= mostSteps; steps++ {
		density, slope := l.density(b, own, at)
		miss = observed - density
		if own == top && miss >= 0 || own == b.from && miss <= 0 || miss != miss {
			return own, miss, steps
		}
		if miss >= 0 {
			low, lowTried = own, true
		} else {
			high, highTried = own, true
		}
		next := own + miss/slope
		switch {
		case math.Abs(next-own) <= 1e-8*own:
			return min(max(next, b.from), top), 0, steps
		case high-low <= 1e-13*own:
			return own, 0, steps
		case next <= low && !lowTried:
			next = low
		case next >= high && !highTried:
			next = high
		case !(next > low && next < high):
			next = low + (high-low)/2
		}
		own = next
	}
	return own, 0, steps
}

// origin is the own base of a law, in its degrees.
func (s scale) origin() float64 {
	switch s {
	case scale68F:
		return base68F
	case scaleF:
		return 60
	}
	return 15
}
