package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"overwinter/internal/calendar"
)

// covers checks a count of successes of probability 0.8 against the binomial distribution by its normal
// limit: three standard deviations, so that one run in 370 of a true 80 % would fail a new seed.
func covers(t *testing.T, what string, inside, of int) {
	t.Helper()
	share, sd := float64(inside)/float64(of), math.Sqrt(0.8*0.2/float64(of))
	t.Logf("%s: %.1f %%", what, 100*share)
	if math.Abs(share-0.8) > 3*sd {
		t.Errorf("%s covers %.1f %%, want 80 ± %.1f", what, 100*share, 300*sd)
	}
}

// coversAtLeast fails if fewer than 80 % are inside.
func coversAtLeast(t *testing.T, what string, inside, of int) {
	t.Helper()
	share, sd := float64(inside)/float64(of), math.Sqrt(0.8*0.2/float64(of))
	t.Logf("%s: %.1f %%", what, 100*share)
	if share < 0.8-3*sd {
		t.Errorf("%s covers %.1f %%, want at least 80 - %.1f", what, 100*share, 300*sd)
	}
}

// believable draws a plant as the model's prior has them: any season of its group, any speed of drift.
func believable(r *rand.Rand) world {
	w := alaska().vary(0.05, r)
	w.yearly = usualDrift * math.Exp2(min(max(r.NormFloat64(), -2), 2))
	w.sd = 0.05 + 0.1*r.Float64()
	return w
}

func checkCalibration(t *testing.T, plants, history int, intervals func(truth, *rand.Rand) []Interval) {
	t.Helper()
	plants /= thinning
	r := random(21)
	var fleet []Series
	var lives []truth
	for i := range plants {
		life := believable(r).live(epoch, history+366, r)
		lives = append(lives, life)
		fleet = append(fleet, Series{Plant: fmt.Sprint("plant ", i), Intervals: intervals(life, r)})
	}
	last := epoch + calendar.Day(history) - 1
	models := fitFleet(fleet, last)
	for _, horizon := range []int{30, 180, 365} {
		byPaths, byMoments := 0, 0
		for i, m := range models {
			burned := lives[i].total(history, history+horizon)
			paths := m.Simulate(last, horizon, 400, 3)
			totals := make([]float64, paths.Count())
			for p := range totals {
				totals[p] = paths.Cumulative(p, horizon)
			}
			if burned >= Quantile(totals, 0.1) && burned <= Quantile(totals, 0.9) {
				byPaths++
			}
			mean, sd := m.Expected(float64(last)+1, float64(last)+1+float64(horizon))
			if math.Abs(burned-float64(mean)) <= 1.2816*float64(sd) { // the normal's 80 %; of a mixture with wider laws more
				byMoments++
			}
		}
		covers(t, fmt.Sprintf("p10 to p90 over %d days", horizon), byPaths, plants)
		coversAtLeast(t, fmt.Sprintf("mean and deviation over %d days", horizon), byMoments, plants)
	}
}

func TestCumulativeBandsCoverFromThreeYearsOfDaysWithGaps(t *testing.T) {
	t.Parallel()
	checkCalibration(t, 240, 1096, func(life truth, r *rand.Rand) []Interval { return life.gappy(0, 1096, r) })
}

func TestCumulativeBandsCoverFromFiveYearsOfMonths(t *testing.T) {
	t.Parallel()
	checkCalibration(t, 150, 1830, func(life truth, _ *rand.Rand) []Interval { return life.every(30, 0, 1830) })
}

func TestCumulativeBandsCoverWhenMostPlantsHaveFourMonths(t *testing.T) {
	t.Parallel()
	n := 0
	checkCalibration(t, 150, 1830, func(life truth, _ *rand.Rand) []Interval {
		if n++; n%5 == 0 {
			return life.every(30, 0, 1830) // one in five lends its season to the others
		}
		return life.every(30, 1710, 1830)
	})
}

func TestExpectedAgreesWithThePaths(t *testing.T) {
	m := fitOne(alaska().live(epoch, 1096, random(22)).every(1, 0, 1096), 1096)
	const days, count = 300, 4000
	paths := m.Simulate(epoch+1095, days, count, 5)
	sum, squares := 0.0, 0.0
	for p := range count {
		x := paths.Cumulative(p, days)
		sum += x
		squares += x * x
	}
	mean := sum / count
	sd := math.Sqrt(squares/count - mean*mean)
	want, wantSD := m.Expected(float64(epoch)+1096, float64(epoch)+1096+days)
	within(t, "mean of the paths", mean, float64(want), 4*sd/math.Sqrt(count))
	// sd of a standard deviation over 4,000 paths is 1.1 % for a normal; the tail is somewhat heavier.
	within(t, "deviation of the paths", sd, float64(wantSD), 0.06*sd)
}

func TestExpectedAddsUpAndGrowsLessCertain(t *testing.T) {
	m := fitOne(alaska().live(epoch, 1096, random(23)).every(1, 0, 1096), 1096)
	at := float64(epoch) + 1096.3
	first, sd1 := m.Expected(at, at+20.4)
	second, _ := m.Expected(at+20.4, at+50)
	whole, sd := m.Expected(at, at+50)
	// Weeks are cut from the start of a span, and the season bends a little inside them.
	within(t, "sum of the parts", float64(first+second), float64(whole), 1e-4*float64(whole))
	if sd1 >= sd {
		t.Errorf("50 days ± %.0f, 20 days ± %.0f", sd, sd1)
	}
	near, nearSD := m.Expected(at, at+30)
	far, farSD := m.Expected(at+731, at+761) // two years on: about the same season
	if float64(farSD/far) <= float64(nearSD/near) {
		t.Errorf("± %.3f in two years, ± %.3f now", farSD/far, nearSD/near)
	}
	if litres, sd := m.Expected(at, at); litres != 0 || sd != 0 {
		t.Errorf("an empty span expects %v ± %v", litres, sd)
	}
}
