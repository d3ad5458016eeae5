package forecast

import (
	"errors"
	"math"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

const scenarioDays = 1826

// coldPlant burns exp(0.5) times as much on a day twice as cold as the mean of the year.
func coldPlant(c Calibration) Model {
	r := random(701)
	weather := climateOf(scenarioDays, r)
	for year, more := range []float64{1.2, -0.6, 0, 1.8, -1.8} { // 18 a day are usual: up to a tenth, which is much
		weather.colder(365*year, 365*(year+1), more)
	}
	life := alaska().live(epoch, scenarioDays, r).heated(weather, 0.5)
	s := Series{Plant: "one", Intervals: life.every(7, scenarioDays%7, scenarioDays), Cold: weather.every(1, 0, scenarioDays)}
	return Fit(s, epoch+scenarioDays-1, nil, nil, c)
}

func under(t *testing.T, m Model, s Scenario) Model {
	t.Helper()
	supposed, err := m.Under(s)
	if err != nil {
		t.Fatal(err)
	}
	return supposed
}

func winter(q float64) Scenario { return Scenario{Winter: &q} }

func TestAColderWinterBurnsMore(t *testing.T) {
	m := coldPlant(asIs())
	before := 0.0
	for _, q := range []float64{0, 0.1, 0.5, 0.9, 1} {
		now := quantileOver(under(t, m, winter(q)), 0, 365, 0.5)
		if !(now > before) {
			t.Errorf("the winter colder than %g of them burns %.0f, a milder one %.0f", q, now, before)
		}
		before = now
	}
	// The weather of the other years is left open.
	second := func(m Model) float64 { return quantileOver(m, 366, 720, 0.5) }
	within(t, "second year of a hard winter over that of any", second(under(t, m, winter(1)))/second(m), 1, 1e-9)
	spread := func(m Model) float64 { return quantileOver(m, 0, 365, 0.9) / quantileOver(m, 0, 365, 0.1) }
	if known, open := spread(under(t, m, winter(0.5))), spread(m); known >= open {
		t.Errorf("p90 over p10 of a year is %.3f with a supposed winter, %.3f without", known, open)
	}
}

func TestASupposedWinterIsThatOfTheYearsAsTheyWere(t *testing.T) {
	// threeYears: the shares 0, 0.5 and 1 are 0.2449 and 0.1225 milder and 0.3674 colder; the effect is 1.
	for q, want := range map[float64]float64{0: -0.2449, 0.5: -0.1225, 1: 0.3674} {
		m := under(t, heatedPlant("a", ""), winter(q))
		within(t, "log of the year over the usual", math.Log(quantileOver(m, 0, 365, 0.5)/365_000), want, 1e-3)
		paths := m.Simulate(epoch-1, 365, 5, 1)
		within(t, "the same on a path", math.Log(paths.Cumulative(3, 365)/365_000), want, 1e-3)
	}
}

func TestASupposedRatioIsExactInTheMedian(t *testing.T) {
	m := coldPlant(Standard())
	from := calendar.Day(m.origin)
	for _, tt := range []struct {
		changes []Change
		want    float64
	}{
		{[]Change{{From: from, Ratio: 1.2}}, 1.2},
		{[]Change{{From: from, Ratio: 0.8}, {From: from, Ratio: 0.5}}, 0.4},
		{[]Change{{From: from + 400, Ratio: 3}}, 1},
	} {
		s := under(t, m, Scenario{Changes: tt.changes})
		for _, p := range []float64{0.1, 0.5, 0.9} {
			within(t, "year over that without", quantileOver(s, 0, 365, p)/quantileOver(m, 0, 365, p), tt.want, 1e-6)
		}
		a, b := s.Simulate(from-1, 365, 20, 3), m.Simulate(from-1, 365, 20, 3)
		within(t, "a path over the same path without", a.Cumulative(7, 365)/b.Cumulative(7, 365), tt.want, 1e-9)
	}
	if idle := under(t, m, Scenario{Changes: []Change{{From: from, Ratio: 0}}}); quantileOver(idle, 0, 365, 0.9) != 0 {
		t.Error("a plant that stands by for good burns")
	}
}

func TestAScenarioLeavesItsModelAlone(t *testing.T) {
	m := coldPlant(asIs())
	before := quantileOver(m, 0, 365, 0.5)
	from := calendar.Day(m.origin)
	one := under(t, m, Scenario{Changes: []Change{{From: from, Ratio: 2}}})
	two := under(t, one, Scenario{Changes: []Change{{From: from, Ratio: 2}}})
	under(t, one, Scenario{Changes: []Change{{From: from, Ratio: 7}}})
	within(t, "model", quantileOver(m, 0, 365, 0.5), before, 0)
	within(t, "scenario on a scenario", quantileOver(two, 0, 365, 0.5)/before, 4, 1e-6)
}

func TestPathsAgreeWithQuantilesUnderScenarios(t *testing.T) {
	m := coldPlant(Standard())
	// Five years of weather are no lognormal: two hundredths.
	from, hard := calendar.Day(m.origin), 0.9
	for what, s := range map[string]Scenario{
		"as it is":       {},
		"a hard winter":  {Winter: &hard},
		"a load to come": {Changes: []Change{{From: from + 100, Ratio: 1.3, SD: 0.2}}},
		"both": {Winter: &hard, Changes: []Change{{From: from + 100, Ratio: 1.3, SD: 0.2},
			{From: from + 200, Until: from + 260, Ratio: 0}}},
	} {
		t.Run(what, func(t *testing.T) {
			u := under(t, m, s)
			paths := u.Simulate(from-1, 540, 6000, 6)
			for _, span := range [][2]int{{0, 30}, {0, 365}, {120, 300}, {0, 540}} {
				agrees(t, u, u.origin, paths, span[0], span[1], 0.02)
			}
		})
	}
}

func TestScenariosThatCannotBeSupposedAreRefused(t *testing.T) {
	m := coldPlant(asIs())
	from := calendar.Day(m.origin)
	bare := fitOne(alaska().live(epoch, 800, random(702)).every(30, 0, 800), 800)
	for what, tt := range map[string]struct {
		model Model
		s     Scenario
		says  string
	}{
		"a share above one":         {m, winter(1.1), "expected 0 to 1"},
		"a share below zero":        {m, winter(-0.1), "expected 0 to 1"},
		"a share that is no number": {m, winter(math.NaN()), "expected 0 to 1"},
		"no degree days":            {bare, winter(0.5), "degree days of 0 whole years"},
		"a change in the past":      {m, Scenario{Changes: []Change{{From: from - 1, Ratio: 2}}}, from.String()},
		"less than nothing":         {m, Scenario{Changes: []Change{{From: from, Ratio: -1}}}, "1/1000 to 1000"},
		"no number":                 {m, Scenario{Changes: []Change{{From: from, Ratio: math.NaN()}}}, "1/1000 to 1000"},
		"an end before its start":   {m, Scenario{Changes: []Change{{From: from + 9, Until: from + 9, Ratio: 1}}}, "an end after the beginning"},
		"a deviation below zero":    {m, Scenario{Changes: []Change{{From: from, Ratio: 1, SD: -1}}}, "its log of 0 to 3"},
	} {
		_, err := tt.model.Under(tt.s)
		var f *fault.Error
		if !errors.As(err, &f) || f.Kind != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", what, err)
		}
	}
}
