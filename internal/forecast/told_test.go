package forecast

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// oddNumber draws numbers as people and machines get them wrong.
func oddNumber(t *rapid.T, name string) float64 {
	return rapid.OneOf(
		rapid.Float64Range(0, 40), rapid.Float64Range(-5, 5),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 1e-300}),
	).Draw(t, name)
}

func oddDay(t *rapid.T, name string) calendar.Day {
	return rapid.OneOf(
		rapid.Custom(func(t *rapid.T) calendar.Day { return epoch + calendar.Day(rapid.IntRange(-100, 1500).Draw(t, "near")) }),
		rapid.SampledFrom([]calendar.Day{0, -1, math.MaxInt32, math.MinInt32}),
	).Draw(t, name)
}

func TestWhateverIsToldGivesFiniteAnswersOrAnError(t *testing.T) {
	const days = 1200
	r := random(801)
	intervals := alaska().live(epoch, days, r).every(30, 0, days)
	cold := climateOf(days, r).every(1, 0, days)
	rapid.Check(t, func(t *rapid.T) {
		s := Series{Plant: "p", Intervals: intervals, Cold: append([]Cold(nil), cold...)}
		if rapid.Bool().Draw(t, "without readings") {
			s.Intervals = nil
		}
		for range rapid.IntRange(0, 3).Draw(t, "odd degree days") {
			s.Cold[rapid.IntRange(0, days-1).Draw(t, "place")].DegreeDays = oddNumber(t, "degree days")
		}
		if rapid.Bool().Draw(t, "an odd span") {
			s.Cold = append(s.Cold, Cold{Start: oddNumber(t, "start"), End: oddNumber(t, "end"), DegreeDays: 5})
		}
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			s.Changes = append(s.Changes, Change{
				From: oddDay(t, "from"), Until: oddDay(t, "until"), Ratio: oddNumber(t, "ratio"), SD: oddNumber(t, "deviation"),
			})
		}
		s.Facts = Facts{Tankage: units.Litres(oddNumber(t, "tankage")), PeakKW: oddNumber(t, "peak")}
		m := Fit(s, epoch+days-1, nil, nil, Standard())
		Lend(s, epoch+days-1)
		if m.Err() != nil {
			return
		}
		answers := []float64{float64(m.Rate(epoch + days + 40))}
		litres, sd := m.Expected(m.origin, m.origin+90)
		answers = append(answers, float64(litres), float64(sd))
		for _, q := range m.Quantiles(m.origin, m.origin+365, 0.1, 0.5, 0.9) {
			answers = append(answers, float64(q))
		}
		paths := m.Simulate(epoch+days-1, 100, 5, 1)
		for p := range 5 {
			answers = append(answers, paths.Cumulative(p, 100))
		}
		for _, x := range answers {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Fatalf("answers %v", answers)
			}
		}
	})
}

func TestReadingsOfAnySizeComeToAnEnd(t *testing.T) {
	r := random(802)
	for i := range 36 / min(thinning, 6) {
		sd, step := []float64{2, 5, 15, 60}[i%4], []int{1, 7, 30}[i%3] // of the log: nonsense beyond some 5
		var intervals []Interval
		for d := 0; d+step <= 900; d += step {
			start, litres := float64(int(epoch)+d), units.LitresAt15(math.Exp(5+sd*r.NormFloat64()))
			if r.Float64() < 0.2 {
				litres = 0
			}
			intervals = append(intervals, Interval{Start: start, End: start + float64(step), Litres: litres})
		}
		m := fitOne(intervals, 900)
		litres, deviation := m.Expected(m.origin, m.origin+30)
		if sum := float64(litres + deviation); math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Errorf("%v ± %v litres, %v", litres, deviation, m.Err())
		}
	}
	for _, sd := range []float64{math.NaN(), math.Inf(1), 100} {
		noise{sd: sd, rho: 0.5}.variation(30) // ends
	}
}
