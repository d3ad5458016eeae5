package forecast

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// fleetOf simulates plants of one world, with different levels, by months of 30 days up to the day given; lives go on for
// a year.
func fleetOf(w world, plants, days int, seed uint64) (fleet []Series, lives []truth) {
	r := random(seed)
	for i := range plants {
		life := w.vary(0.03, r).live(epoch, days+366, r)
		fleet = append(fleet, Series{Plant: fmt.Sprint("plant ", i), Intervals: life.every(30, days%30, days)})
		lives = append(lives, life)
	}
	return fleet, lives
}

func calibrated(fleet []Series, days int) Calibration {
	origin := epoch + calendar.Day(days) - 1
	lent, groups := lendAll(fleet, origin)
	return Calibrate(fleet, origin, lent, groups)
}

func TestALawThatAFleetObeysGetsMostWeight(t *testing.T) {
	t.Parallel()
	for _, want := range []law{{0.01, 0.07, 1}, {0.16, 0.02, 1}} {
		w := alaska()
		w.yearly, w.passing, w.sd = want.drift, want.passing, 0.05
		r := random(89)
		var evidence [][]float64
		for range 20 {
			evidence = append(evidence, fitOne(w.live(epoch, 3652, r).every(30, 22, 3652), 3652).evidence)
		}
		weights := fleetLaws(append(evidence, nil)) // and a plant without a model
		sum, most := 0.0, 0
		for i, x := range weights {
			sum += x
			if x > weights[most] {
				most = i
			}
		}
		within(t, "sum of the weights", sum, 1, 1e-12)
		if laws[most] != want {
			t.Errorf("a fleet of %+v is believed to obey %+v", want, laws[most])
		}
	}
}

func TestAFleetWithoutEvidenceHasTheStandardLaws(t *testing.T) {
	noneFits := slices.Repeat([]float64{math.Inf(-1)}, len(laws))
	for _, evidence := range [][][]float64{nil, {nil, nil}, {nil, noneFits}} {
		for i, w := range fleetLaws(evidence) {
			within(t, "weight of a law", w, standardLaws()[i], 1e-12)
		}
	}
	// A plant that favours no law moves none by more than the half per cent that softmax cuts off, out of eleven plants.
	for i, w := range fleetLaws([][]float64{make([]float64, len(laws))}) {
		within(t, "weight of a law", w, standardLaws()[i], 0.02)
	}
}

func TestOnePlantsEvidenceCountsAsOnePlantBesideTheStandard(t *testing.T) {
	// A plant that only the first law explains: weight (10·w + 1)/11 for it and 10·w/11 for the others.
	own := make([]float64, len(laws))
	for i := range own[1:] {
		own[1+i] = -1000
	}
	standard := standardLaws()
	for i, w := range fleetLaws([][]float64{own}) {
		want := 10 * standard[i] / 11
		if i == 0 {
			want += 1.0 / 11
		}
		within(t, "weight of a law", w, want, 1e-12)
	}
}

func TestStandardLawsAreAsStated(t *testing.T) {
	// Drift about 7 % a year with 1.4 octaves, strangeness as rare as it is large: by hand against the weight of
	// (0.08, 0.02, 1).
	weights := map[law]float64{}
	for i, w := range standardLaws() {
		weights[laws[i]] = w
	}
	base := weights[law{0.08, 0.02, 1}]
	within(t, "the same with more that passes", weights[law{0.08, 0.07, 1}]/base, 1, 1e-12)
	within(t, "three times as strange", weights[law{0.08, 0.02, 3}]/base, 1.0/3, 1e-12)
	within(t, "nine times as strange", weights[law{0.08, 0.02, 9}]/base, 1.0/9, 1e-12)
	// log2(0.32/0.07)/1.4 = 1.56618 and log2(0.08/0.07)/1.4 = 0.13761: exp(-(2.45292 - 0.01894)/2) = 0.29613.
	within(t, "drift of 32 %", weights[law{0.32, 0.02, 1}]/base, 0.29613, 1e-4)
}

func TestScoresOfAnotherWidthChangeTheScalesThatWay(t *testing.T) {
	const count = 2000
	normal := make([]float64, count)
	r := random(90)
	for i := range normal {
		normal[i] = r.NormFloat64()
	}
	times := func(factor float64) (all []float64) {
		for _, z := range normal {
			all = append(all, factor*z)
		}
		return all
	}
	middle := func(scales []float64) float64 { return median(scales) }
	standard := middle(Standard().Scales)
	within(t, "scores as wide as the model says", middle(fleetScales(normal)), standard, 0.05)
	// 200 scores count; a scale of 1.5 is 0.41/0.1 = 4 deviations from what is believed before. The Student's
	// distribution that fits normal scores of 1.5 best has a smaller scale than 1.5, for its tail is wider.
	if wide := middle(fleetScales(times(1.5))) / standard; wide < 1.1 || wide > 1.5 {
		t.Errorf("scores 1.5 times as wide: the middle scale is %.2f times the standard one", wide)
	}
	within(t, "scores half as wide", middle(fleetScales(times(0.5))), standard, 0.05)
}

func TestAFleetThatObeysTheModelKeepsTheStandardSpreadAndCovers(t *testing.T) {
	t.Parallel()
	w := alaska()
	w.passing = 0.05
	plants, days := 60/thinning, 1830
	fleet, lives := fleetOf(w, plants, days, 91)
	origin := epoch + calendar.Day(days) - 1
	lent, groups := lendAll(fleet, origin)
	c := Calibrate(fleet, origin, lent, groups)
	within(t, "middle scale over the standard one", median(c.Scales)/median(Standard().Scales), 1, 0.15)
	for _, horizon := range []int{90, 365} {
		inside := 0
		for i, s := range fleet {
			m := Fit(s, origin, lent[i], groups[s.Group], c)
			at := float64(origin) + 1
			q := m.Quantiles(at, at+float64(horizon), 0.1, 0.9)
			if burned := units.LitresAt15(lives[i].total(days, days+horizon)); burned >= q[0] && burned <= q[1] {
				inside++
			}
		}
		coversAtLeast(t, fmt.Sprintf("p10 to p90 over %d days", horizon), inside, plants)
	}
}

// restlessFleet lives steadily for 900 days; then each half year begins with a level 25 % up or down, which no history told
// of.
func restlessFleet(plants, days int, seed uint64) (fleet []Series, lives []truth) {
	fleet, lives = fleetOf(alaska(), plants, days, seed)
	r := random(seed + 1)
	for i, life := range lives {
		level := 0.0
		for d := range life.litres {
			if d > 900 && d%180 == 0 {
				level = 0.25 * math.Copysign(1, r.NormFloat64())
			}
			life.litres[d] *= math.Exp(level)
		}
		fleet[i].Intervals = life.every(30, days%30, days)
	}
	return fleet, lives
}

func TestAFleetThatBreaksTheModelGetsAWiderSpread(t *testing.T) {
	t.Parallel()
	fleet, _ := restlessFleet(24/min(thinning, 3), 1830, 92)
	if ratio := last(calibrated(fleet, 1830).Scales) / last(Standard().Scales); ratio < 1.15 {
		t.Errorf("the widest scale is %.2f times the standard one", ratio)
	}
}

func TestCalibrationDependsOnNothingButThePast(t *testing.T) {
	fleet, lives := restlessFleet(8, 1500, 103)
	want := calibrated(fleet, 1500)
	if slices.Equal(want.Scales, Standard().Scales) {
		t.Fatal("the fleet has too few scores to have its own scales")
	}
	check := func(what string, got Calibration) {
		t.Helper()
		if !slices.Equal(got.Laws, want.Laws) || !slices.Equal(got.Scales, want.Scales) {
			t.Errorf("%s: scales %v, want %v; laws %v, want %v", what, got.Scales, want.Scales, got.Laws, want.Laws)
		}
	}
	longer := slices.Clone(fleet)
	for i := range longer {
		odd := lives[i].every(30, 1500, 1860)
		odd[3].Litres *= 7
		longer[i].Intervals = append(slices.Clone(longer[i].Intervals), odd...)
	}
	check("with the future in the series", calibrated(longer, 1500))
	calibrated(fleet[:3], 1200)
	check("after another fleet", calibrated(fleet, 1500))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	check("on one core", calibrated(fleet, 1500))
	runtime.GOMAXPROCS(2)
	check("on two cores", calibrated(fleet, 1500))
}

func TestCalibrationDoesNotDependOnTheOrderOfPlants(t *testing.T) {
	fleet, _ := restlessFleet(8, 1500, 105)
	want := calibrated(fleet, 1500)
	slices.Reverse(fleet)
	got := calibrated(fleet, 1500)
	// Sums in another order differ by rounding.
	for i := range want.Laws {
		within(t, "weight of a law", got.Laws[i], want.Laws[i], 1e-9)
	}
	for i := range want.Scales {
		within(t, "scale", got.Scales[i], want.Scales[i], 1e-9)
	}
}

func TestAYoungFleetHasTheStandardSpread(t *testing.T) {
	fleet, _ := fleetOf(alaska(), 3, 400, 96) // no origin in the past has 540 days before it
	if got := calibrated(fleet, 400); !slices.Equal(got.Scales, Standard().Scales) {
		t.Errorf("scales %v, want %v", got.Scales, Standard().Scales)
	}
	none := calibrated(nil, 400)
	if !slices.Equal(none.Scales, Standard().Scales) {
		t.Errorf("a fleet of no plant has scales %v", none.Scales)
	}
}

func TestAPastForecastIsScoredByWhereItsOutcomeFalls(t *testing.T) {
	s := Series{Plant: "p", Intervals: alaska().live(epoch, 1830, random(97)).every(30, 0, 1830)}
	past := epoch + 1460
	r := replay{epoch + 1829, nil, Calibration{Scales: []float64{1}, Laws: standardLaws()}}
	m := Fit(s, past, nil, nil, r.plain)
	scores := r.scores(s, nil, past, nil)
	// The months from day 1470 on lie ahead: 60 of 91 days are measured, too few, 150 of 182, and 330 of 365.
	if len(scores) != 2 {
		t.Fatalf("%d scores of 2 horizons", len(scores))
	}
	spans, burned := outcome(s.Intervals, nil, &known{}, float64(past)+1, float64(past)+183)
	within(t, "days measured", covered(spans), 150, 0)
	// The quantile that the score names must be what was burned; Φ as in any table: the median has the score 0.
	p := math.Erfc(-scores[0]/math.Sqrt2) / 2
	within(t, "quantile of the score", quantileOf(m.parts(spans...), p), burned, 1e-6*burned)
	faults := []Fault{{Interval: s.Intervals[50]}} // 120 of 182 days are left, and 300 of 365
	if left := r.scores(s, faults, past, nil); len(left) != 1 {
		t.Errorf("%d horizons are scored, of which only the year is measured well enough", len(left))
	}
}
