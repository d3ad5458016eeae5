package forecast

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// byMonth gives the calendar months of a life that begins on the first of one.
func (t truth) byMonth() (months []Interval) {
	first := calendar.Day(t.first)
	for a := 0; a < len(t.litres); {
		year, month, _ := (first + calendar.Day(a)).Civil()
		b := int(calendar.Date(year, month+1, 1) - first)
		if b > len(t.litres) {
			break
		}
		months = append(months, t.interval(a, b))
		a = b
	}
	return months
}

// raise multiplies what is burned between two dates of a year, which may lie about New Year.
func (t truth) raise(year int, from, to time.Month, fromDay, toDay int, factor float64) {
	end := calendar.Date(year, to, toDay)
	if to < from {
		end = calendar.Date(year+1, to, toDay)
	}
	for day := calendar.Date(year, from, fromDay); day <= end; day++ {
		if i := int(day) - t.first; i >= 0 && i < len(t.litres) {
			t.litres[i] *= factor
		}
	}
}

// julyLife is five years from 2020 on with three times the usual in the first days of July of the years given.
func julyLife(days int, years ...int) truth {
	life := alaska().live(epoch, 1827, random(83))
	for _, year := range years {
		life.raise(year, time.July, time.July, 1, days, 3)
	}
	return life
}

func TestAPeakInJulyOfEveryYearIsSeasonNotFault(t *testing.T) {
	life, plain := julyLife(31, 2020, 2021, 2022, 2023, 2024), fitOne(julyLife(0).byMonth(), 1827)
	total := func(m Model, month time.Month) float64 {
		litres, _ := m.Expected(float64(calendar.Date(2025, month, 1)), float64(calendar.Date(2025, month+1, 1)))
		return float64(litres)
	}
	// Noise of five Julys 0.10·sqrt(5.7/155) = 0.02 in logs, drift as much and the edges: 0.12. Twelve coefficients
	// follow twelve months. In days six harmonics alone follow a box of d = 31/365.25 of a year to
	// (d² + 2·Σ (sin πkd/πk)²)/d = 0.81 of its height.
	july := map[string][2]float64{"months": {1, 1}, "days": {0.81, 1}}
	for name, intervals := range map[string][]Interval{"months": life.byMonth(), "days": life.every(1, 0, 1827)} {
		m := fitOne(intervals, 1827)
		if len(m.Faults()) > 5 { // a day at the edge of each July may pass for one
			t.Errorf("%s: faults %v", name, m.Faults())
		}
		rise := math.Log(total(m, time.July) / total(plain, time.July))
		if rise < july[name][0]*math.Log(3)-0.12 || rise > july[name][1]*math.Log(3)+0.12 {
			t.Errorf("%s: July rises by %.2f in logs, want %.2f", name, rise, math.Log(3))
		}
		for _, month := range []time.Month{time.May, time.September, time.December} {
			off := math.Log(total(m, month) / total(plain, month))
			within(t, name+": log of "+month.String()+" beside a plant without a peak", off, 0, 0.12)
		}
	}
}

func TestAPeakTooNarrowForTheHarmonicsIsAnEvent(t *testing.T) {
	m := fitOne(julyLife(14, 2020, 2021, 2022, 2023, 2024).every(1, 0, 1827), 1827)
	if len(m.events) != 1 || len(m.Faults()) > 5 || !hasNotice(m, "yearly-event") {
		t.Fatalf("events %v, faults %v, notices %v", m.events, m.Faults(), m.Notices())
	}
	// 1 July is day 181 or 182 of the year of the harmonics, 15 July day 195 or 196; a day at either end may pass for noise.
	within(t, "start", m.events[0].from, 181.5, 2)
	within(t, "end", m.events[0].to, 195.5, 2)
	// Seventy days tell it to 0.10·sqrt(5.7/70) = 0.03; the prior of a deviation of 1 pulls by a thousandth.
	within(t, "its effect", m.season[firstEvent], math.Log(3), 0.1)
}

func TestASlipInTwoYearsIsStillAFault(t *testing.T) {
	life := julyLife(0)
	months := life.byMonth()
	bad := slices.Clone(months)
	bad[14].Litres *= 10 // March 2021
	bad[32].Litres *= 10 // September 2022
	m := fitOne(bad, 1827)
	named := m.Faults()
	if len(named) != 2 || named[0].Interval != bad[14] || named[1].Interval != bad[32] || hasNotice(m, "yearly-event") {
		t.Errorf("faults %v, notices %v", m.Faults(), m.Notices())
	}
	bad = slices.Clone(months[:36])
	bad[14].Litres *= 10 // March of two years in three: ten times the usual is a slip whenever it comes
	bad[26].Litres *= 10
	m = fitOne(bad, 1096)
	if len(m.Faults()) != 2 || hasNotice(m, "yearly-event") {
		t.Errorf("the same month: faults %v, notices %v", m.Faults(), m.Notices())
	}
}

func TestOneOddYearIsNoYearlyEvent(t *testing.T) {
	m := fitOne(julyLife(31, 2022).byMonth(), 1827)
	if len(m.Faults()) != 1 || hasNotice(m, "yearly-event") {
		t.Errorf("faults %v, notices %v", m.Faults(), m.Notices())
	}
	m = fitOne(julyLife(14, 2020).every(1, 0, 540), 540) // the only July that was seen
	if len(m.Faults()) < 10 || hasNotice(m, "yearly-event") {
		t.Errorf("%d faults, notices %v", len(m.Faults()), m.Notices())
	}
}

// newYearLife burns three times the usual from 12 December to 20 January, winter after winter from 2019 on.
func newYearLife(days int) truth {
	life := alaska().live(epoch, days, random(84))
	for year := 2019; year < 2026; year++ {
		life.raise(year, time.December, time.January, 12, 20, 3)
	}
	return life
}

func TestAnEventOverNewYearIsOne(t *testing.T) {
	m := fitOne(newYearLife(1827).every(1, 0, 1827), 1827)
	if len(m.events) != 1 || len(m.Faults()) > 2 {
		t.Fatalf("events %v, faults %v", m.events, m.Faults())
	}
	// 12 December is day 345 of 365.25, 20 January ends on day 20 of the next year; leap years shift both by a day, and a day
	// at either end may have passed for noise.
	within(t, "start", m.events[0].from, 345, 2.5)
	within(t, "end", m.events[0].to, daysPerYear+20, 2.5)
	if at := fitOne(newYearLife(1827).every(7, 0, 1827), 1827); len(at.events) != 1 || at.events[0].to < daysPerYear {
		t.Errorf("weeks give events %v", at.events)
	}
}

func TestAnEventIsNamedByItsLastOccurrence(t *testing.T) {
	summer, newYear := event{181, 212}, event{345, 385.25}
	// Day 181 of the year of the harmonics is 1 July of a common year; 2024 begins on day 0.5 of it, 2025 on day 0.25.
	tests := []struct {
		event       event
		origin      calendar.Day
		first, last calendar.Day
	}{
		{summer, calendar.Date(2025, 3, 1), calendar.Date(2024, 6, 30), calendar.Date(2024, 7, 30)},
		{summer, calendar.Date(2025, 9, 1), calendar.Date(2025, 7, 1), calendar.Date(2025, 7, 31)},
		{newYear, calendar.Date(2025, 3, 1), calendar.Date(2024, 12, 11), calendar.Date(2025, 1, 20)},
		{newYear, calendar.Date(2025, 1, 5), calendar.Date(2023, 12, 12), calendar.Date(2024, 1, 20)},
	}
	for _, tt := range tests {
		first, last := tt.event.describe(float64(tt.origin))
		if first < tt.first-1 || first > tt.first+1 || last < tt.last-1 || last > tt.last+1 {
			t.Errorf("%v by %s: from %s to %s, want %s to %s, a day either way", tt.event, tt.origin, first, last, tt.first, tt.last)
		}
	}
}

func TestAnEventsShareOfAStretchIsTheTimeInsideIt(t *testing.T) {
	year := 55 * daysPerYear // a multiple: place 0 of the year
	tests := []struct {
		event      event
		start, end float64
		want       float64
	}{
		{event{100, 130}, year + 90, year + 150, 0.5},
		{event{100, 130}, year + 110, year + 120, 1},
		{event{100, 130}, year + 130, year + 140, 0},
		{event{345.25, 385.25}, year + 355.25, year + 375.25, 1},   // over New Year
		{event{345.25, 385.25}, year, year + 40, 0.5},              // its second part
		{event{345.25, 385.25}, year + 325.25, year + 365.25, 0.5}, // its first part
		{event{345.25, 385.25}, year, year + 365.25, 40 / 365.25},  // all of a year
		{event{0, 10}, year + 360.25, year + 370.25, 0.5},          // a stretch over New Year
		{event{10, 20}, year + 365.25, year + 365.25 + 365.25, 10 / 365.25},
	}
	for _, tt := range tests {
		within(t, "share", tt.event.share(tt.start, tt.end), tt.want, 1e-9)
	}
}

func TestAYearlyLullIsSeasonToo(t *testing.T) {
	// A school that stands empty in August, of a plant that serves little else.
	life := alaska().live(epoch, 1827, random(85))
	for year := 2020; year < 2025; year++ {
		life.raise(year, time.August, time.August, 1, 31, 0.3)
	}
	m := fitOne(life.byMonth(), 1827)
	june, august := m.Rate(calendar.Date(2025, 6, 16)), m.Rate(calendar.Date(2025, 8, 16))
	if len(m.Faults()) > 0 || august > june/2 {
		t.Errorf("faults %v; %.0f L a day in June, %.0f in August", m.Faults(), june, august)
	}
}
