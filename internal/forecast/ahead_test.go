package forecast

import (
	"math"
	"testing"
)

// threeYears had the weather 0.1, 0.2 and 0.6 colder than usual in the years before the origin, the last one first.
func threeYears(origin float64) weather {
	w := weather{firstDay: int(math.Floor(origin - 3*daysPerYear)), years: 3}
	for day := w.firstDay; float64(day) < origin; day++ {
		year := int((origin - float64(day) - 0.5) / daysPerYear)
		w.colder = append(w.colder, []float64{0.1, 0.2, 0.6, 0.6}[year])
	}
	return w
}

func TestTheYearsAheadAreThoseObservedAboutTheirMean(t *testing.T) {
	origin := float64(epoch)
	w := threeYears(origin)
	// About the mean of 0.3: -0.2, -0.1, 0.3, each times sqrt(3/2), so that the mean of their squares is the variance of a sample,
	// (0.04 + 0.01 + 0.09)/2 = 0.07.
	want := []float64{-0.2449, -0.1225, 0.3674}
	for what, start := range map[string]float64{"the first week": 0, "some week": 100.5, "a week of the third year": 800} {
		colder, sum, squares := w.ahead(origin+start, origin+start+7, origin), 0.0, 0.0
		for y, x := range colder {
			within(t, what, x, want[y], 1e-4)
			sum, squares = sum+x, squares+x*x
		}
		within(t, what+": sum", sum, 0, 1e-12)
		within(t, what+": variance", squares/3, 0.07, 1e-9)
	}
	w.years = 2
	if w.ahead(origin, origin+7, origin) != nil {
		t.Error("two years are drawn from")
	}
}

func TestAWinterIsAQuantileOfTheYears(t *testing.T) {
	origin := float64(epoch)
	w := threeYears(origin)
	// In order: -0.2449, -0.1225, 0.3674 are the shares 0, 0.5 and 1; 0.9 is four fifths of the way from the second to the third.
	for q, want := range map[float64]float64{0: -0.2449, 0.25: -0.1837, 0.5: -0.1225, 0.9: 0.2694, 1: 0.3674} {
		got := dot(w.winter(q, origin), w.ahead(origin, origin+7, origin))
		within(t, "colder than usual", got, want, 1e-4)
	}
}

// heatedPlant is one whose only uncertainty is the weather of threeYears: a day colder by x burns exp(x) times as much.
func heatedPlant(plant, group string) Model {
	m := plain(plant, group)
	m.noise.sd = 1e-9
	m.known.weather = threeYears(m.origin)
	m.season[coldAt], m.posteriors[0].mean[2+coldAt] = 1, 1
	return m
}

func TestPlantsOfAGroupHaveTheSameWeatherYears(t *testing.T) {
	const days, count = 700, 900
	year := func(plant, group string, from, to int) (logs []float64) {
		paths := heatedPlant(plant, group).Simulate(epoch-1, days, count, 11)
		for _, x := range totalsOf(paths, from, to) {
			logs = append(logs, math.Log(x/1000/float64(to-from)))
		}
		return logs
	}
	first, second := year("a", "coast", 0, 360), year("b", "coast", 0, 360)
	seen := map[int]int{}
	for p := range first {
		within(t, "plants of one group", second[p], first[p], 1e-6)
		seen[int(math.Round(first[p]*1e4))]++
	}
	if len(seen) != 3 {
		t.Errorf("%d kinds of year of the three observed: %v", len(seen), seen)
	}
	for kind, n := range seen { // 900 throws of a third: ± 14.1, four times
		within(t, "paths of a kind of year", float64(n), count/3, 57)
		if kind != -2449 && kind != -1225 && kind != 3674 {
			t.Errorf("a year is %d/10000 colder than usual", kind)
		}
	}
	other := year("a", "inland", 0, 360)
	// 1/sqrt(900) = 0.033, four times.
	within(t, "correlation of plants of two groups", correlation(first, other), 0, 0.14)
	within(t, "correlation of two years", correlation(first, year("a", "coast", 366, 700)), 0, 0.14)
}

func TestEachYearAheadHasWeatherOfItsOwn(t *testing.T) {
	m := heatedPlant("a", "")
	variance := func(years float64) float64 { return m.parts(Span{m.origin, m.origin + years*daysPerYear})[0].variance }
	within(t, "variance of one year", variance(1), 0.07, 0.002) // of the three years, at an effect of 1
	within(t, "variance of two years", variance(2), 0.035, 0.001)
}

func TestQuantilesAgreeWithThePathsWhereTheWeatherIsDrawn(t *testing.T) {
	const days, count = 1826, 6000
	r := random(205)
	c := climateOf(days, r)
	life := alaska().live(epoch, days, r).heated(c, 0.8)
	s := Series{Plant: "one", Intervals: life.every(30, 26, days), Cold: c.every(1, 0, days)}
	m := Fit(s, epoch+days-1, nil, nil, Standard())
	paths, at := m.Simulate(epoch+days-1, 540, count, 6), float64(epoch)+days
	for _, to := range []int{30, 180, 540} {
		agrees(t, m, at, paths, 0, to, 0.01)
	}
}

// agrees holds p10, p50 and p90 of a span against the paths: four standard deviations of a count, and form for what a sum of lognormals
// differs from one.
func agrees(t *testing.T, m Model, at float64, paths Paths, from, to int, form float64) {
	t.Helper()
	ps := []float64{0.1, 0.5, 0.9}
	totals := totalsOf(paths, from, to)
	for i, q := range m.Quantiles(at+float64(from), at+float64(to), ps...) {
		below := 0.0
		for _, x := range totals {
			if x < float64(q) {
				below++
			}
		}
		n := float64(len(totals))
		within(t, "share of paths below a quantile", below/n, ps[i], 4*math.Sqrt(ps[i]*(1-ps[i])/n)+form)
	}
}
