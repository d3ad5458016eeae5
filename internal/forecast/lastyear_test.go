package forecast

import (
	"fmt"
	"math"
	"testing"
)

// monthsAt1000 is a fit of so many stretches of 30 days before its origin, at a level of 1,000 L a day. The residuals of the
// older half are +0.10, those of the newer half -0.02.
func monthsAt1000(months int) *fit {
	var observations []observation
	for i := range months {
		start := float64(epoch) + 30*float64(i)
		observations = append(observations, observation{Interval: Interval{Start: start, End: start + 30, Litres: 30000}})
	}
	f := newFit(observations, known{}, float64(epoch)+30*float64(months), flatPrior())
	f.level = make([]float64, f.knots.count)
	for i := range f.level {
		f.level[i] = math.Log(1000)
	}
	f.linearise()
	for i := range f.rows {
		f.rows[i].residual = 0.10
		if i >= months/2 {
			f.rows[i].residual = -0.02
		}
	}
	return f
}

func TestLastYearsLevelIsHeldAgainstWhatTheModelExpectsOfTheNext(t *testing.T) {
	// Two laws: levels ln 1000 - 0.04 and - 0.08, passing deviations 0.05 and 0.01, weights 3 to 1. Their mean is a level of
	// ln 1000 - 0.05 and a passing deviation of 0.04.
	laws := []posterior{{weight: 0.75}, {weight: 0.25}}
	laws[0].mean[0], laws[0].mean[1] = math.Log(1000)-0.04, 0.05
	laws[1].mean[0], laws[1].mean[1] = math.Log(1000)-0.08, 0.01
	// Last year's mean log lies (0.10 - 0.02)/2 = 0.04 above ln 1000, so 0.09 above the level. Of what passes in 120
	// days the mean of the next year has 120/365.25·(1 - e^(-365.25/120)) = 0.328542·(1 - 0.047654) = 0.312886:
	// 0.0125154 of 0.04.
	within(t, "last year above the model", monthsAt1000(12).lastYear(laws), 0.09-0.0125154, 1e-6)

	short := monthsAt1000(12)
	for i := range 3 {
		short.observations[i].named = true // 270 days are left
	}
	within(t, "a year of 270 days", short.lastYear(laws), 0, 0)

	doubtful := monthsAt1000(12)
	doubtful.observations[0].named, doubtful.rows[11].coarse = true, true // 300 days: five of each kind
	within(t, "a year with two months left out", doubtful.lastYear(laws), 0.09-0.0125154, 1e-6)

	long := monthsAt1000(24) // the older year, all at +0.10, has no say
	within(t, "the newer of two years", long.lastYear(laws), 0.03-0.0125154, 1e-6)
}

func TestHalfOfLastYearsLevelIsAdded(t *testing.T) {
	var observations []observation
	intervals := alaska().live(epoch, 1830, random(81)).every(30, 0, 1830)
	for _, i := range intervals {
		observations = append(observations, observation{Interval: i})
	}
	f := newFit(observations, known{}, float64(epoch)+1830, flatPrior())
	if !f.run(standardLaws()) {
		t.Fatal("no fit")
	}
	state, _ := f.weighLaws(standardLaws())
	f.linearise()
	m := fitOne(intervals, 1830)
	for i, p := range m.posteriors {
		within(t, "level with half of last year's", p.mean[0], state[i].mean[0]+0.5*f.lastYear(state), 1e-9)
	}
}

// The year before a step is another plant's: it says nothing of the year to come.
func TestAStepOfLoadThatWasFoundIsFollowedInTheYearToCome(t *testing.T) {
	const days, since = 1440, 180
	for _, times := range []float64{0.5, 1.5, 2} {
		r, off := random(77), 0.0
		for range 8 {
			w := alaska()
			w.yearly = 0.02
			life := w.live(epoch, days+365, r).times(func(d int) float64 {
				if d >= days-since {
					return times
				}
				return 1
			})
			m := told(life.every(30, 0, days), days)
			off += math.Log(quantileOver(m, 0, 365, 0.5)/life.total(days, days+365)) / 8
		}
		// A quarter of the step would be left of it by half of a year of which half lies before: 0.1 and more.
		within(t, fmt.Sprintf("log of the median over what was burned, after a step of %g times", times), off, 0, 0.06)
	}
}
