package forecast

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"overwinter/internal/calendar"
)

// told fits a plant to what is known of it by the end of a day counted from epoch.
func told(intervals []Interval, days int, changes ...Change) Model {
	return Fit(Series{Plant: "one", Intervals: intervals, Changes: changes}, epoch+calendar.Day(days)-1, nil, nil, asIs())
}

// changed multiplies the days from a up to b of a life.
func (t truth) changed(a, b int, ratio float64) truth {
	return t.times(func(d int) float64 {
		if d >= a && d < b {
			return ratio
		}
		return 1
	})
}

func quantileOver(m Model, from, to, p float64) float64 {
	return float64(m.Quantiles(m.origin+from, m.origin+to, p)[0])
}

func TestADeclaredStepIsForecastBeforeAnyReadingOfIt(t *testing.T) {
	const days = 1096
	for _, step := range []int{1, 7, 30} {
		life := alaska().live(epoch, days, random(401)).every(step, 0, days-10)
		for what, from := range map[string]calendar.Day{"five days ago": epoch + days - 5, "tomorrow": epoch + days} {
			before := told(life, days)
			after := told(life, days, Change{From: from, Ratio: 1.4})
			for _, p := range []float64{0.1, 0.5, 0.9} {
				ratio := quantileOver(after, 0, 365, p) / quantileOver(before, 0, 365, p)
				within(t, fmt.Sprintf("intervals of %d days, %s, p%.0f over that without", step, what, 100*p), ratio, 1.4, 1e-6)
			}
		}
	}
}

// The change is declared as 1.4, give or take 0.3 in logs, and is 1.1 in truth.
func TestAStepOfUnsureSizeIsWideAtFirstAndCorrectedByReadings(t *testing.T) {
	const days, at = 1186, 1096
	w := alaska()
	w.yearly, w.sd = 0.02, 0.05
	life := w.live(epoch, days, random(402)).changed(at, days, 1.1)
	for _, step := range []int{1, 7} {
		for since, tt := range map[int]struct{ ratio, tolerance, leastWidth, mostWidth float64 }{
			0:  {1.4, 0.06, 0.29, 0.35}, // the declared size
			5:  {1.4, 0.06, 0.29, 0.35}, // nothing was read since
			90: {1.1, 0.06, 0, 0.10},    // three months of readings
		} {
			if since > 0 && since < step {
				continue
			}
			read := at
			if since == 90 {
				read = days
			}
			intervals := life.every(step, at%step, read)
			m := told(intervals, at+since, Change{From: epoch + at, Ratio: 1.4, SD: 0.3})
			base := told(life.every(step, at%step, at), at)
			what := fmt.Sprintf("intervals of %d days, %d days after", step, since)
			level := quantileOver(m, 0, 365, 0.5) / quantileOver(base, float64(since), 365+float64(since), 0.5)
			within(t, what+": median over that without", math.Log(level/tt.ratio), 0, tt.tolerance)
			width := math.Log(quantileOver(m, 0, 365, 0.9)/quantileOver(m, 0, 365, 0.1)) / 2 / 1.2816
			if width < tt.leastWidth || width > tt.mostWidth {
				t.Errorf("%s: deviation of the log of a year is %.3f, want %.2f to %.2f", what, width, tt.leastWidth, tt.mostWidth)
			}
		}
	}
}

func TestAChangeThatEndsIsForecastToEnd(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days, random(403)).changed(days-200, days, 0.5)
	for _, step := range []int{1, 30} {
		m := told(life.every(step, days%step, days), days, Change{From: epoch + days - 200, Until: epoch + days + 30, Ratio: 0.5})
		if n := len(m.Faults()); n > 0 {
			t.Errorf("intervals of %d days: %d are named", step, n)
		}
		// One day makes little difference of season, and two weekdays of a plant without a week differ by some hundredths.
		within(t, "first day after over the last day of it", float64(m.Rate(epoch+days+30)/m.Rate(epoch+days+29)), 2, 0.05)
		whole := told(life.changed(days-200, days, 2).every(step, days%step, days), days)
		within(t, "the months after, over those of a life without it",
			quantileOver(m, 30, 365, 0.5)/quantileOver(whole, 30, 365, 0.5), 1, 0.01)
	}
}

func TestADeclaredStandbyIsNoFaultAndDoesNotPullTheLevel(t *testing.T) {
	const days = 1096
	w := alaska()
	w.yearly, w.sd = 0.02, 0.05
	life := w.live(epoch, days, random(404))
	for what, tt := range map[string]struct{ from, until int }{
		"last summer":     {days - 300, days - 200},
		"until today":     {days - 100, days},
		"and ahead of it": {days - 100, days + 60},
	} {
		for _, step := range []int{1, 7, 30} {
			stood := life.changed(tt.from, min(tt.until, days), 0)
			m := told(stood.every(step, days%step, days), days, Change{From: epoch + calendar.Day(tt.from), Until: epoch + calendar.Day(tt.until)})
			name := fmt.Sprintf("%s, intervals of %d days", what, step)
			if n := len(m.Faults()); n > 0 {
				t.Errorf("%s: %d are named, the first as %q", name, n, m.Faults()[0].Reason)
			}
			if slices.ContainsFunc([]string{"zeros-at-end", "readings-old", "readings-doubtful"}, func(code string) bool { return hasNotice(m, code) }) {
				t.Errorf("%s: %v", name, m.Notices())
			}
			want := quantileOver(told(life.every(step, days%step, days), days), 60, 425, 0.5)
			// 100 days less of readings, and a drift of 2 % a year and noise of 0.05: the level is known to 0.02.
			within(t, name+": the next year over that without a standby", quantileOver(m, 60, 425, 0.5)/want, 1, 0.04)
		}
	}
}

func TestADeclaredStandbyAheadBurnsNothing(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days, random(405)).every(7, days%7, days)
	m := told(life, days, Change{From: epoch + days + 20, Until: epoch + days + 50, Ratio: 0, SD: 0.4})
	running := told(life, days)
	at := float64(epoch) + days
	if litres, sd := m.Expected(at+20, at+50); litres != 0 || sd != 0 {
		t.Errorf("%v ± %v while standing by", litres, sd)
	}
	if q := m.Quantiles(at+25, at+26, 0.1, 0.9); q[0] != 0 || q[1] != 0 {
		t.Errorf("quantiles %v while standing by", q)
	}
	for _, day := range []calendar.Day{20, 49} {
		if rate := m.Rate(epoch + days + day); rate != 0 {
			t.Errorf("rate %v on day %d", rate, day)
		}
	}
	paths := m.Simulate(epoch+days-1, 90, 50, 1)
	for p := range 50 {
		if paths.Cumulative(p, 50) != paths.Cumulative(p, 20) || !(paths.Cumulative(p, 51) > paths.Cumulative(p, 50)) {
			t.Fatalf("path %d burns %v by day 20, %v by day 50, %v by day 51", p, paths.Cumulative(p, 20), paths.Cumulative(p, 50), paths.Cumulative(p, 51))
		}
	}
	got, _ := m.Expected(at+10, at+60)
	first, _ := running.Expected(at+10, at+20)
	second, _ := running.Expected(at+50, at+60)
	within(t, "days before and after it, over those of a plant that runs on", float64(got/(first+second)), 1, 0.002)
}

func TestAChangeOfThePastThatWasDeclaredIsNeitherFaultNorStep(t *testing.T) {
	const days, from = 1096, 996
	r := random(408)
	for _, ratio := range []float64{0.1, 0.5, 3, 8} {
		for _, step := range []int{1, 30} {
			life := alaska().live(epoch, days, r)
			m := told(life.changed(from, days, ratio).every(step, days%step, days), days, Change{From: epoch + from, Ratio: ratio})
			what := fmt.Sprintf("%g times, intervals of %d days", ratio, step)
			if len(m.Faults()) > 0 || hasNotice(m, "load-step") || m.erratic {
				t.Errorf("%s: %d faults, %v", what, len(m.Faults()), m.Notices())
			}
			without := told(life.every(step, days%step, days), days)
			within(t, what+": year over that without", quantileOver(m, 0, 365, 0.5)/quantileOver(without, 0, 365, 0.5)/ratio, 1, 0.01)
		}
	}
}

func TestWhatIsNotSureOfAChangeCountsByItsShareOfTheLitres(t *testing.T) {
	m := plain("a", "")
	m.noise.sd = 1e-9
	from := calendar.Day(m.origin)
	variance := func() float64 { return m.parts(Span{m.origin, m.origin + 140})[0].variance }
	m.known.changes = []Change{{From: from + 70, Ratio: 1, SD: 0.1}}
	// Half of the litres, all off by the same factor: (0.1/2)². The mean of the log-normal raises their share by a quarter per cent.
	within(t, "one change", variance(), 0.0025, 0.00002)
	m.known.changes = append(m.known.changes, Change{From: from, Until: from + 35, Ratio: 1, SD: 0.2})
	within(t, "another, of a quarter of the litres, by itself", variance(), 0.0025+0.0025, 0.00006)
	m.known.changes = []Change{{From: from - 500, Until: from + 70, Ratio: 1, SD: 0.1}}
	within(t, "one in force that ends: what comes after it is as unsure", variance(), 0.0025, 0.00002)
	m.known.changes = []Change{{From: from - 500, Ratio: 1, SD: 0.1}, {From: from - 500, Until: from, Ratio: 1, SD: 0.1}, {From: from, Ratio: 1}}
	within(t, "one that stays, one that is over, one that is sure", variance(), 0, 1e-9)
}

func TestChangesThatOverlapMultiply(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days, random(406)).every(30, days%30, days)
	m := told(life, days, Change{From: epoch + days, Ratio: 1.5}, Change{From: epoch + days + 30, Until: epoch + days + 60, Ratio: 0.8})
	base := told(life, days)
	for day, want := range map[calendar.Day]float64{0: 1.5, 29: 1.5, 30: 1.2, 59: 1.2, 60: 1.5} {
		within(t, fmt.Sprintf("day %d", day), float64(m.Rate(epoch+days+day)/base.Rate(epoch+days+day)), want, 1e-9)
	}
}

func TestPathsAgreeWithQuantilesWhereAChangeIsNotSure(t *testing.T) {
	const days = 1096
	life := alaska().live(epoch, days, random(407)).every(7, days%7, days)
	for what, c := range map[string]Change{
		"a load to come":           {From: epoch + days + 40, Ratio: 1.5, SD: 0.4},
		"for some months":          {From: epoch + days + 40, Until: epoch + days + 160, Ratio: 1.5, SD: 0.4},
		"there, and about to end":  {From: epoch + days - 400, Until: epoch + days + 40, Ratio: 1, SD: 0.4},
		"there, and to stay there": {From: epoch + days - 400, Ratio: 1, SD: 0.4},
	} {
		m := told(life, days, c)
		paths := m.Simulate(epoch+days-1, 365, 6000, 1)
		for _, span := range [][2]int{{0, 30}, {50, 150}, {0, 365}} {
			t.Run(what, func(t *testing.T) { agrees(t, m, m.origin, paths, span[0], span[1], 0.02) })
		}
	}
}

func TestChangesThatCannotBeReckonedWithAreLeftOut(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []Change{
		{From: 5, Ratio: nan}, {From: 5, Ratio: -1}, {From: 5, Ratio: inf}, {From: 5, Ratio: 1, SD: nan},
		{From: 5, Ratio: 1, SD: -0.1}, {From: 5, Ratio: 1, SD: inf}, {From: 5, Until: 5, Ratio: 1}, {From: 5, Until: 4, Ratio: 1},
	} {
		if kept := usable([]Change{c}); len(kept) > 0 {
			t.Errorf("%+v is reckoned with", c)
		}
		if m := told(alaska().live(epoch, 400, random(3)).every(30, 0, 390), 390, c); !hasNotice(m, "change-ignored") {
			t.Errorf("%+v is left out without a word", c)
		}
	}
	whole := []Change{{From: 5}, {From: 5, Until: 6, Ratio: 2, SD: 0.1}}
	if kept := usable(whole); !slices.Equal(kept, whole) {
		t.Errorf("kept %+v", kept)
	}
}

func TestFuelBurnedInADeclaredStandbyIsTold(t *testing.T) {
	life := alaska().live(epoch, 400, random(3)).every(30, 0, 390)
	standby := Change{From: epoch + 60, Until: epoch + 120}
	if m := told(life, 390, standby); !hasNotice(m, "burned-in-standby") {
		t.Errorf("notices %v", m.Notices())
	}
	life[2].Litres, life[3].Litres = 0, 0
	if m := told(life, 390, standby); hasNotice(m, "burned-in-standby") || len(m.Faults()) > 0 {
		t.Errorf("notices %v, faults %v", m.Notices(), m.Faults())
	}
}
