package forecast

import (
	"math"
	"sync"
	"testing"

	"overwinter/internal/calendar"
)

// plain is a model whose only uncertainty is daily noise about 1,000 L a day.
func plain(plant, group string) Model {
	m := Model{plant: plant, group: group, origin: float64(epoch), noise: noise{sd: 0.2, rho: 0.6}}
	m.level, m.knots = []float64{math.Log(1000), math.Log(1000)}, knots{first: float64(epoch) - 30, step: 30, count: 2}
	p := posterior{weight: 1}
	p.mean[0] = math.Log(1000)
	m.posteriors, m.calibration.Scales = []posterior{p}, []float64{1}
	return m
}

// noises gives the log of the consumption of a day over the median, path by path.
func noises(m Model, day, count int, seed uint64) []float64 {
	paths := m.Simulate(epoch-1, day, count, seed)
	out := make([]float64, count)
	for p := range out {
		out[p] = math.Log((paths.Cumulative(p, day) - paths.Cumulative(p, day-1)) / 1000)
	}
	return out
}

func correlation(x, y []float64) float64 {
	var sx, sy, sxx, syy, sxy float64
	n := float64(len(x))
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, syy, sxy = sxx+x[i]*x[i], syy+y[i]*y[i], sxy+x[i]*y[i]
	}
	return (sxy - sx*sy/n) / math.Sqrt((sxx-sx*sx/n)*(syy-sy*sy/n))
}

func TestPlantsOfAGroupShareHalfTheirWeather(t *testing.T) {
	const count = 8000
	a, b, far := plain("a", "coast"), plain("b", "coast"), plain("c", "inland")
	for _, m := range []Model{a, b, far} {
		m.posteriors[0].passing = 5 // beside it the noise of a day is nothing
	}
	// The correlation of normals is known from 8,000 pairs to 0.011 at most: four times that.
	for _, day := range []int{20, 200} {
		within(t, "correlation in a group", correlation(noises(a, day, count, 1), noises(b, day, count, 1)), sharedWeather, 0.045)
		within(t, "correlation of groups", correlation(noises(a, day, count, 1), noises(far, day, count, 1)), 0, 0.045)
		within(t, "correlation of seeds", correlation(noises(a, day, count, 1), noises(a, day, count, 2)), 0, 0.045)
	}
}

func TestDailyNoiseHasItsDeviationAndCorrelationFromTheFirstDay(t *testing.T) {
	const count = 20000
	m := plain("a", "")
	first, second, tenth := noises(m, 1, count, 1), noises(m, 2, count, 1), noises(m, 10, count, 1)
	for _, x := range [][]float64{first, tenth} {
		sum, squares := 0.0, 0.0
		for _, v := range x {
			sum += v
			squares += v * v
		}
		within(t, "mean", sum/count, 0, 4*0.2/math.Sqrt(count))
		within(t, "deviation", math.Sqrt(squares/count), 0.2, 4*0.2/math.Sqrt(2*count))
	}
	within(t, "correlation from day to day", correlation(first, second), 0.6, 0.02)
}

func TestTheLevelWandersAtItsSpeed(t *testing.T) {
	m := plain("a", "")
	m.noise.sd = 1e-9
	m.posteriors[0].drift = 0.2
	const count = 2000
	squares := 0.0
	for _, x := range noises(m, 365, count, 1) {
		squares += x * x
	}
	// 52 steps of a week in 365 days of 365.25: 0.2·sqrt(364/365.25), known to 1/sqrt(2·2,000), four times.
	within(t, "deviation after a year", math.Sqrt(squares/count), 0.2*math.Sqrt(364/365.25), 0.2*4/math.Sqrt(2*count))
}

func TestTheSameSeedGivesTheSamePathsInAnyOrder(t *testing.T) {
	fleet, _ := fleetWithNewcomer("inland")
	models := fitFleet(fleet, epoch+1825)
	const days, count = 60, 20
	want := make([]Paths, len(models))
	for i, m := range models {
		want[i] = m.Simulate(epoch+1825, days, count, 42)
	}
	got := make([]Paths, len(models))
	var all sync.WaitGroup
	for i := len(models) - 1; i >= 0; i-- {
		all.Go(func() { got[i] = models[i].Simulate(epoch+1825, days, count, 42) })
	}
	all.Wait()
	for i := range models {
		for p := range count {
			for d := range days + 1 {
				if got[i].Cumulative(p, d) != want[i].Cumulative(p, d) {
					t.Fatalf("plant %d path %d day %d: %v and %v", i, p, d, got[i].Cumulative(p, d), want[i].Cumulative(p, d))
				}
			}
		}
	}
	few := models[0].Simulate(epoch+1825, 10, 5, 42)
	if few.Cumulative(4, 10) != want[0].Cumulative(4, 10) {
		t.Error("a path depends on how many there are or how long they are")
	}
}

func TestPathsAreCumulativeFromZero(t *testing.T) {
	m := fitOne(alaska().live(epoch, 800, random(61)).every(5, 0, 800), 800)
	paths := m.Simulate(epoch+799, 100, 50, 1)
	if paths.Days() != 100 || paths.Count() != 50 {
		t.Fatalf("%d paths of %d days", paths.Count(), paths.Days())
	}
	for p := range 50 {
		if paths.Cumulative(p, 0) != 0 {
			t.Errorf("path %d starts at %v", p, paths.Cumulative(p, 0))
		}
		for d := 1; d <= 100; d++ {
			if paths.Cumulative(p, d) <= paths.Cumulative(p, d-1) {
				t.Errorf("path %d does not burn on day %d", p, d)
			}
		}
	}
}

func TestALaterStartIsLessCertain(t *testing.T) {
	m := fitOne(alaska().live(epoch, 1096, random(62)).every(1, 0, 1096), 1096)
	width := func(from calendar.Day) float64 {
		paths := m.Simulate(from, 30, 2000, 1)
		totals := make([]float64, paths.Count())
		for p := range totals {
			totals[p] = paths.Cumulative(p, 30)
		}
		return (Quantile(totals, 0.9) - Quantile(totals, 0.1)) / median(totals)
	}
	if now, later := width(epoch+1095), width(epoch+1095+365); later < 1.2*now {
		t.Errorf("width %.3f now, %.3f a year on without readings", now, later)
	}
}

func TestNonsenseCountsGiveNoPaths(t *testing.T) {
	m := plain("a", "")
	for _, p := range []Paths{m.Simulate(epoch, 0, 5, 1), m.Simulate(epoch, 5, 0, 1), m.Simulate(epoch, -1, -1, 1)} {
		if p.Days() != 0 || p.Count() != 0 {
			t.Errorf("%d paths of %d days", p.Count(), p.Days())
		}
	}
}
