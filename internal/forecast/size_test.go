package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// unread draws a plant of which only a figure is known, as a size says: its level is off by the size's deviation.
func unread(s Size, r *rand.Rand) (figure float64, w world) {
	w = alaska()
	figure = math.Exp(5 + 2*r.NormFloat64())
	w.level = s.Log + math.Log(figure) + s.SD*r.NormFloat64()
	return figure, w
}

func TestPlantsWithoutReadingsAreCoveredFromTheirSize(t *testing.T) {
	const days, donors = 1830, 8
	fleet, _ := fleetOf(alaska(), donors, days, 601)
	origin := epoch + days - 1
	_, groups := lendAll(fleet, origin)
	c := asIs()
	c.Tankage, c.Peak = usualTankage, usualPeak
	for what, tt := range map[string]struct {
		size Size
		of   func(figure float64) Facts
	}{
		"tankage": {usualTankage, func(x float64) Facts { return Facts{Tankage: units.Litres(x)} }},
		"peak":    {usualPeak, func(x float64) Facts { return Facts{PeakKW: x} }},
	} {
		r, inside, sum := random(602), 0, 0.0
		const plants = 150
		for i := range plants {
			figure, w := unread(tt.size, r)
			life := w.live(epoch+days, 366, r)
			m := Fit(Series{Plant: fmt.Sprint(i), Facts: tt.of(figure)}, origin, nil, groups[""], c)
			if m.Err() != nil {
				t.Fatal(m.Err())
			}
			q := m.Quantiles(m.origin, m.origin+365, 0.1, 0.5, 0.9)
			burned := units.LitresAt15(life.total(0, 365))
			if burned >= q[0] && burned <= q[2] {
				inside++
			}
			sum += math.Log(float64(burned / q[1]))
		}
		covers(t, "p10 to p90 of a year by "+what, inside, plants)
		within(t, "log of the year over its median, by "+what, sum/plants, 0, 3*tt.size.SD/math.Sqrt(plants))
	}
}

func TestASizeIsLearnedFromTheFleet(t *testing.T) {
	c := Standard()
	nan := math.NaN()
	// Logs of litres a day over litres of tankage: -7, -6.5, -6 and no others. Their median is -6.5, and the median deviation 0.5 stands for
	// 0.5·1.4826 = 0.7413. With the usual -6.71 ± 0.62 as five plants: (3·(-6.5) - 5·6.71)/8 = -6.63125 and
	// sqrt((3·0.7413² + 5·0.62²)/8) = 0.66808.
	c.learnSizes([]Facts{
		{Tankage: 1000}, {Tankage: 10_000}, {Tankage: 100_000, PeakKW: 100},
		{Tankage: 5000}, {}, {PeakKW: -3}, {Tankage: -1}, {PeakKW: 50},
	}, []float64{
		-7 + math.Log(1000), -6.5 + math.Log(10_000), -6 + math.Log(100_000),
		nan, 3, 4, 5, nan,
	})
	within(t, "litres a day over tankage", c.Tankage.Log, -6.63125, 1e-9)
	within(t, "its deviation", c.Tankage.SD, 0.66808, 1e-4)
	// One plant with a peak: ln 100,000 - 6 = 5.51293 over ln 100 = 4.60517 is 0.90776; (0.90776 + 5·1.15)/6 = 1.10963.
	within(t, "litres a day over kW", c.Peak.Log, 1.10963, 1e-5)
}

// A plant without readings has a level that was guessed from its size: it must not confirm the guess.
func TestGuessesTeachNoSize(t *testing.T) {
	const days = 1830
	fleet, lives := fleetOf(alaska(), 6, days, 603)
	for i := range fleet {
		fleet[i].Facts.Tankage = units.Litres(2 * lives[i].total(days-365, days)) // twice a year's use in store
	}
	want := calibrated(fleet, days)
	for i := range 20 {
		fleet = append(fleet, Series{Plant: fmt.Sprint("new ", i), Facts: Facts{Tankage: 5000}})
	}
	got := calibrated(fleet, days)
	within(t, "size with guesses in the fleet", got.Tankage.Log, want.Tankage.Log, 1e-12)
	within(t, "its deviation", got.Tankage.SD, want.Tankage.SD, 1e-12)
	// ln(1/(2·365)) = -6.593 for six plants, -6.71 for five: -6.646, and a year's level is not that of the end of the history.
	within(t, "size of the fleet", want.Tankage.Log, -6.646, 0.08)
}

func TestTheSurerOfTankageAndPeakIsTaken(t *testing.T) {
	c := Standard()
	if _, _, known := new(Calibration).guess(Facts{Tankage: 1000, PeakKW: 10}); known {
		t.Error("a calibration without sizes guesses")
	}
	for what, tt := range map[string]struct {
		facts Facts
		want  float64
		known bool
	}{
		"tankage":      {Facts{Tankage: 100_000}, -6.71 + math.Log(100_000), true},
		"peak":         {Facts{PeakKW: 200}, 1.15 + math.Log(200), true},
		"both":         {Facts{Tankage: 100_000, PeakKW: 200}, 1.15 + math.Log(200), true}, // ± 0.43, and ± 0.62 by tankage
		"neither":      {Facts{}, 0, false},
		"no numbers":   {Facts{Tankage: units.Litres(math.NaN()), PeakKW: math.Inf(1)}, 0, false},
		"below zero":   {Facts{Tankage: -5, PeakKW: -1}, 0, false},
		"one is wrong": {Facts{Tankage: 100_000, PeakKW: math.NaN()}, -6.71 + math.Log(100_000), true},
	} {
		log, _, known := c.guess(tt.facts)
		if known != tt.known {
			t.Errorf("%s: known is %v", what, known)
		}
		if known {
			within(t, what, log, tt.want, 1e-12)
		}
	}
}

func TestAPlantOfKnownSizeSaysThatItsLevelIsAGuess(t *testing.T) {
	zeros := []Interval{{Start: float64(epoch), End: float64(epoch) + 30}}
	for what, s := range map[string]Series{
		"no reading":     {Plant: "new", Facts: Facts{PeakKW: 100}},
		"only zeros":     {Plant: "new", Facts: Facts{PeakKW: 100}, Intervals: zeros},
		"only unread":    {Plant: "new", Facts: Facts{PeakKW: 100}, Intervals: []Interval{{Start: 5, End: 4, Litres: 3}}},
		"a past standby": {Plant: "new", Facts: Facts{PeakKW: 100}, Intervals: zeros, Changes: []Change{{From: epoch, Until: epoch + 40}}},
	} {
		m := Fit(s, epoch+59, nil, nil, Standard())
		if m.Err() != nil || !hasNotice(m, "no-readings") {
			t.Errorf("%s: %v, %v", what, m.Err(), m.Notices())
		}
		// exp(1.15)·100 = 316 L a day, times exp(0.05) in the mean of a year whose season is unknown: the variance of a day is 0.16²·Σ 1/k⁴ =
		// 0.028 by 9 laws of 13, and 3² times that by the others: 0.097 on average, of which half. And times exp(0.15²/2) for the noise of days: 336.
		within(t, what, float64(m.Quantiles(m.origin, m.origin+365, 0.5)[0])/365, 336, 10)
	}
	if m := Fit(Series{Plant: "new"}, epoch+59, nil, nil, Standard()); m.Err() == nil {
		t.Error("a plant of which nothing is known has a forecast")
	}
}

func TestPathsOfAPlantWithoutReadingsAgreeWithItsQuantiles(t *testing.T) {
	m := Fit(Series{Plant: "new", Facts: Facts{Tankage: 1e5}}, epoch+59, nil, nil, Standard())
	paths := m.Simulate(epoch+calendar.Day(59), 365, 6000, 4)
	for _, days := range []int{30, 365} {
		agrees(t, m, m.origin, paths, 0, days, 0.03)
	}
}
