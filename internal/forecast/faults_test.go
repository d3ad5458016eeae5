package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// spoil is a kind of bad reading and a word of the reason that names it; no word where no cause is sure.
type spoil struct {
	factor float64
	word   string
}

var spoils = []spoil{
	{10, "digit too many"},
	{0.1, "digit missing"},
	{0, "not reported"},
	{units.LitresPerUSGallon, "litres taken for US gallons"},
	{1 / units.LitresPerUSGallon, "US gallons taken for litres"},
	{-0.3, "count correction"},
	{0.55, "count correction"},
	{1.7, ""},
	{2, "two periods"},
}

// spoilSome spoils every nth interval from the first given, kind after kind, and gives what was done where.
func spoilSome(intervals []Interval, first, nth int) map[float64]spoil {
	done := map[float64]spoil{}
	for i, k := first, 0; i < len(intervals); i, k = i+nth, k+1 {
		s := spoils[k%len(spoils)]
		intervals[i].Litres *= units.LitresAt15(s.factor)
		done[intervals[i].Start] = s
	}
	return done
}

// yearMedian gives the median of the simulated total of the year from day on.
func yearMedian(m Model, from calendar.Day) float64 {
	paths := m.Simulate(from, 365, 300, 9)
	totals := make([]float64, paths.Count())
	for p := range totals {
		totals[p] = paths.Cumulative(p, 365)
	}
	return median(totals)
}

func checkNamed(t *testing.T, m Model, spoiled map[float64]spoil, intervals int) {
	t.Helper()
	wrong := 0
	named := map[float64]string{}
	for _, f := range m.Faults() {
		named[f.Interval.Start] = f.Reason
		if _, ok := spoiled[f.Interval.Start]; !ok {
			wrong++
		}
	}
	for start, s := range spoiled {
		if reason, ok := named[start]; !ok {
			t.Errorf("a reading of %.2f times the true one on %s is not named", s.factor, calendar.Day(start))
		} else if !strings.Contains(reason, s.word) {
			t.Errorf("%.2f times the true reading is called %q", s.factor, reason)
		}
	}
	if share := float64(wrong) / float64(intervals); share > 0.02 {
		t.Errorf("%d sound readings of %d are named", wrong, intervals)
	}
}

func TestSpoiledReadingsAreNamedAndHardlyMoveTheForecast(t *testing.T) {
	tests := []struct {
		name                    string
		step, days, first, each int
	}{
		{"a fifth of three years of weeks", 7, 1092, 2, 5},
		{"one in fifty of three years of days", 1, 1096, 20, 50},
		{"a tenth of five years of months", 30, 1830, 4, 10},
		{"a fifth of eight years of months", 30, 2910, 3, 5},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := alaska()
			w.sd = 0.07
			life := w.live(epoch, tt.days, random(31))
			clean := life.every(tt.step, 0, tt.days)
			bad := slices.Clone(clean)
			spoiled := spoilSome(bad, tt.first, tt.each)
			good, robust := fitOne(clean, tt.days), fitOne(bad, tt.days)
			checkNamed(t, robust, spoiled, len(bad))
			last := epoch + calendar.Day(tt.days) - 1
			if off := yearMedian(robust, last)/yearMedian(good, last) - 1; math.Abs(off) > 0.02 {
				t.Errorf("the median of the coming year moves by %.1f %%", 100*off)
			}
		})
	}
}

func TestADecemberCountCorrectionIsNamed(t *testing.T) {
	life := alaska().live(calendar.Date(2019, 1, 1), 1826, random(32))
	clean := life.every(30, 0, 1800)
	last := calendar.Date(2019, 1, 1) + 1799
	good := fitFleet([]Series{{Plant: "p", Intervals: clean}}, last)[0]
	for _, factor := range []units.LitresAt15{0.6, 1.5} {
		bad := slices.Clone(clean)
		december := slices.IndexFunc(bad, func(i Interval) bool { return i.End > float64(calendar.Date(2021, 12, 20)) })
		bad[december].Litres *= factor
		m := fitFleet([]Series{{Plant: "p", Intervals: bad}}, last)[0]
		if len(m.Faults()) != 1 || m.Faults()[0].Interval != bad[december] {
			t.Errorf("× %.1f in December: named %v", factor, m.Faults())
		}
		if off := yearMedian(m, last)/yearMedian(good, last) - 1; math.Abs(off) > 0.02 {
			t.Errorf("× %.1f in December moves the median of the coming year by %.1f %%", factor, 100*off)
		}
	}
}

func TestTwoSlipsAmongTwelveDoNotMaskEachOther(t *testing.T) {
	for seed := range uint64(8 / thinning) {
		life := alaska().live(epoch, 360, random(40+seed))
		clean := life.every(30, 0, 360)
		good := yearMedian(fitOne(clean, 360), epoch+359)
		for _, pair := range [][2]int{{3, 4}, {0, 11}, {6, 9}} {
			bad := slices.Clone(clean)
			bad[pair[0]].Litres *= 10
			bad[pair[1]].Litres *= 10
			m := fitOne(bad, 360)
			if len(m.Faults()) != 2 || m.Faults()[0].Interval != bad[pair[0]] || m.Faults()[1].Interval != bad[pair[1]] {
				t.Errorf("seed %d, slips in %v: named %v", seed, pair, m.Faults())
			}
			if off := yearMedian(m, epoch+359)/good - 1; math.Abs(off) > 0.15 {
				// Two of twelve months are lost, and with them part of an unknown season.
				t.Errorf("seed %d, slips in %v move the median by %.0f %%", seed, pair, 100*off)
			}
		}
	}
}

func TestSoundReadingsAreLeftAlone(t *testing.T) {
	r := random(33)
	named, all, steps := 0, 0, 0
	for range 24 / thinning {
		w := believable(r)
		days, months := w.live(epoch, 1096, r).every(1, 0, 1096), w.live(epoch, 1830, r).every(30, 0, 1830)
		for _, series := range [][]Interval{days, months} {
			m := fitFleet([]Series{{Plant: "p", Intervals: series}}, epoch+1829)[0]
			named += len(m.Faults())
			all += len(series)
			if hasNotice(m, "load-step") {
				steps++
			}
		}
	}
	if share := float64(named) / float64(all); share > 0.001 { // five standard deviations of a normal: 6e-7
		t.Errorf("%d of %d sound readings are named", named, all)
	}
	if steps > 2 {
		t.Errorf("%d of 48 drifting plants are said to step", steps)
	}
}

func TestAStepOfLoadIsFollowedNotNamed(t *testing.T) {
	for _, factor := range []float64{0.6, 1.6} {
		for _, ago := range []int{45, 100, 400} {
			life := alaska().live(epoch, 1096, random(34))
			clean := fitOne(life.every(1, 0, 1096), 1096)
			for d := 1096 - ago; d < 1096; d++ {
				life.litres[d] *= factor
			}
			m := fitOne(life.every(1, 0, 1096), 1096)
			// 45 days tell a level to 0.10·sqrt(5.7/45) = 0.036, and drift and season add about 0.03: three times both.
			within(t, "level after a step", last(m.level), last(clean.level)+math.Log(factor), 0.14)
			if !hasNotice(m, "load-step") {
				t.Errorf("× %.1f %d days ago: notices %v", factor, ago, m.Notices())
			}
			if n := len(m.Faults()); n > 20 { // days within a knot of the step may fit neither side
				t.Errorf("× %.1f %d days ago: %d days named", factor, ago, n)
			}
		}
	}
}

func last(values []float64) float64 { return values[len(values)-1] }

func hasNotice(m Model, code string) bool {
	return slices.ContainsFunc(m.Notices(), func(n notice.Notice) bool { return n.Code == code })
}

func TestZerosAtTheEndAreReportedNotFitted(t *testing.T) {
	life := alaska().live(epoch, 1096, random(35))
	days := life.every(1, 0, 1096)
	for i := 1036; i < 1096; i++ {
		days[i].Litres = 0
	}
	m := fitOne(days, 1096)
	if !hasNotice(m, "zeros-at-end") || len(m.Faults()) != 60 {
		t.Errorf("%d named, notices %v", len(m.Faults()), m.Notices())
	}
	before := fitOne(days[:1036], 1096)
	within(t, "rate", float64(m.Rate(epoch+1100)), float64(before.Rate(epoch+1100)), 1e-6*float64(m.Rate(epoch+1100)))
}

func TestUnreadableIntervalsAreFaults(t *testing.T) {
	life := alaska().live(epoch, 400, random(36))
	good := life.every(10, 0, 400)
	at := float64(epoch) + 100
	bad := []Interval{
		{Start: at, End: at, Litres: 100},
		{Start: at, End: at - 1, Litres: 100},
		{Start: at, End: at + 1, Litres: units.LitresAt15(math.NaN())},
		{Start: at, End: at + 1, Litres: units.LitresAt15(math.Inf(1))},
		{Start: math.NaN(), End: at + 1, Litres: 1},
		{Start: at, End: at + 1, Litres: 1, Sigma: -1},
		{Start: at - 2000, End: at + 1, Litres: 1},
	}
	m := fitOne(append(bad, good...), 400)
	if m.Err() != nil || len(m.Faults()) != len(bad) {
		t.Errorf("%v, faults %v", m.Err(), m.Faults())
	}
	for _, f := range m.Faults() {
		if math.IsNaN(float64(f.Interval.Litres+f.Expected)) || math.IsInf(float64(f.Interval.Litres), 0) || f.Reason == "" {
			t.Errorf("fault %+v", f)
		}
	}
}

func TestAnyIntervalsGiveFiniteAnswersOrAnError(t *testing.T) {
	r := random(37)
	for range 240 / thinning {
		var intervals []Interval
		for range 1 + r.IntN(25) {
			intervals = append(intervals, wild(r))
		}
		m := fitFleet([]Series{{Plant: "p", Intervals: intervals}}, epoch+700)[0]
		litres, sd := m.Expected(float64(epoch)+690, float64(epoch)+800)
		paths := m.Simulate(epoch+700, 50, 2, 1)
		numbers := float64(litres + sd + m.Rate(epoch+1000))
		if m.Err() == nil {
			numbers += paths.Cumulative(1, 50)
		}
		if math.IsNaN(numbers) || math.IsInf(numbers, 0) || numbers < 0 {
			t.Fatalf("%v from %v", numbers, intervals)
		}
		if m.Err() == nil && !(numbers > 0) {
			t.Fatalf("a usable model that burns nothing, from %v", intervals)
		}
	}
}

func wild(r *rand.Rand) Interval {
	start := float64(epoch) + 800*r.Float64()
	return Interval{
		Start:  start,
		End:    start + math.Exp(4*r.NormFloat64()),
		Litres: units.LitresAt15(math.Round(math.Exp(6*r.NormFloat64())) * (r.Float64() - 0.2)),
		Sigma:  units.LitresAt15(max(0, 50*r.NormFloat64())),
	}
}
