package resupply

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"overwinter/internal/calendar"
)

// uncertain is a day that is not known for sure.
type uncertain struct {
	mid   float64 // as a calendar.Day
	scale float64
	unit  *scores // nil: normal
}

// at is the day with as much probability before it as z has in the unit normal distribution.
func (u uncertain) at(z float64) float64 {
	if u.unit != nil {
		z = u.unit.at(z)
	}
	return u.mid + u.scale*z
}

func (u uncertain) span() Span { return Span{u.day(-z90), u.day(0), u.day(z90)} }

func (u uncertain) day(z float64) calendar.Day { return calendar.Day(math.Round(u.at(z))) }

// below is the probability that it is not after a day, whole days not counted.
func (u uncertain) below(day float64) float64 {
	x := (day - u.mid) / u.scale
	if u.unit != nil {
		x = u.unit.score(x)
	}
	return distuv.UnitNormal.CDF(x)
}

// before is the probability that u falls before another, independent one.
func (u uncertain) before(o uncertain) float64 {
	switch {
	case u.unit == nil && o.unit == nil:
		spread := math.Hypot(u.scale, o.scale)
		if spread == 0 {
			return 0
		}
		return distuv.UnitNormal.CDF((o.mid - u.mid) / spread)
	case u.unit == nil: // the one that is summed over may be a day known for sure, the other not
		return 1 - o.before(u)
	}
	// Trapezoids over the normal scores of o: for smooth integrands all but exact.
	const steps = 2 * farthest * scoresPerUnit
	sum, weight := 0.0, 0.0
	for i := range steps + 1 {
		z := score(i)
		w := distuv.UnitNormal.Prob(z)
		sum, weight = sum+w*u.below(o.at(z)), weight+w
	}
	return sum / weight
}

// after is the probability that u falls after an independent other or after a given day, whichever is first.
func (u uncertain) after(o uncertain, day calendar.Day) float64 {
	end := float64(day) + 0.5 // of whole days, rounded
	switch {
	case u.scale == 0 && u.mid > end, o.scale == 0 && o.mid > end:
		return 1 - u.below(end)
	case u.scale == 0 || o.scale == 0:
		return o.before(u)
	}
	last := (end - u.mid) / u.scale
	if u.unit != nil {
		last = u.unit.score(last)
	}
	// P(u > day) + P(o < u ≤ day), the latter by trapezoids up to the normal score of the day.
	const first, steps = -2 * farthest, 400
	sum, step := 0.0, (min(last, -first)-first)/steps
	for i := 0; i <= steps && step > 0; i++ {
		z, weight := first+float64(i)*step, step
		if i == 0 || i == steps {
			weight /= 2
		}
		sum += weight * distuv.UnitNormal.Prob(z) * o.below(u.at(z))
	}
	return 1 - distuv.UnitNormal.CDF(last) + sum
}
