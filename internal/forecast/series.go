// Package forecast says how much fuel a plant will burn. It fits a seasonal model to usage intervals
// of any length and simulates paths of cumulative consumption, since the sum is what empties a tank.
//
// The model, for local day d:
//
//	ln rate(d) = level(d) + passing(d) + season(d) + c·colder(d) + weekday(d) + events(d) + ln changes(d) + e(d)
//	season(d) = Σ_{k=1..6} a_k sin(2πk·t/365.25) + b_k cos(2πk·t/365.25),  t = d + ½
//
// The level is a slow Gaussian random walk; the passing deviation a first-order autoregression that fades in some
// months; events are the effects of a few parts of the year, changes what was declared; e is the first-order autoregression of the days. How
// fast the level walks, how much passes and how strange the season is are weighed by evidence: see law. What the plants of
// a fleet have in common is learned from them: see Group and Calibration.
//
// The package is pure: it takes plain inputs and never sees the ledger.
package forecast

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Interval is a usage interval: litres at 15 °C burned between two moments of the plant's local day
// line (calendar.Fraction), so that 20515.33 is a third through local day 20515.
type Interval struct {
	Start, End float64
	Litres     units.LitresAt15
	Sigma      units.LitresAt15 // standard uncertainty of the measurement; 0 if unknown
}

// Days gives the length of the interval in local days.
func (i Interval) Days() float64 { return i.End - i.Start }

// defect says why an interval cannot be read at all; "" when it can.
func (i Interval) defect() string {
	numbers := i.Start + i.End + float64(i.Litres) + float64(i.Sigma)
	switch {
	case math.IsNaN(numbers) || math.IsInf(numbers, 0):
		return "not a number"
	case math.Abs(i.Start) > farthestDay || math.Abs(i.End) > farthestDay:
		return "a date out of all reason"
	case i.End <= i.Start:
		return "ends before it begins"
	case i.Days() > longestInterval:
		return "spans more than three years"
	case i.Sigma < 0:
		return "negative uncertainty"
	}
	return ""
}

// finite gives the interval with zeros for what is no finite number, so that it can be shown.
func (i Interval) finite() Interval {
	clean := func(x float64) float64 {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return 0
		}
		return x
	}
	return Interval{
		Start: clean(i.Start), End: clean(i.End),
		Litres: units.LitresAt15(clean(float64(i.Litres))), Sigma: units.LitresAt15(clean(float64(i.Sigma))),
	}
}

const (
	farthestDay     = 1e6  // days from 1970: beyond it a date is a slip
	longestInterval = 1100 // days: a longer total says nothing about season or level
)

// Series is what is known of one plant's consumption. All but the plant and the intervals may be left out.
type Series struct {
	Plant string
	// Group is the climate group: its plants share a seasonal shape and their weather. Plants of the
	// empty group make one group too, for a fleet that is not divided.
	Group     string
	Intervals []Interval
	Energy    []Energy // generated with that fuel; none overlaps another
	Cold      []Cold   // observed; none overlaps another
	Changes   []Change // known beforehand or declared; past and future
	Facts     Facts
}

// Energy is what a plant generated with its fuel between two moments of the day line.
type Energy struct{ Start, End, KWh float64 }

// Cold is the heating degree days observed between two moments of the day line, of any base: only how they differ from the
// usual of the same time of year is used.
type Cold struct{ Start, End, DegreeDays float64 }

// Change is a change of use that is known without the readings: a load connected, fuel displaced by wind, sun or
// water, a plant put on standby. It lasts from day From to the day before Until; for good if Until is 0.
type Change struct {
	From, Until calendar.Day
	Ratio       float64 // times which the plant then burns what it would burn without it; 0 is standing by
	SD          float64 // standard deviation of ln Ratio; 0 if it is sure
}

// Facts is what is known of a plant that has no readings yet; 0 is unknown.
type Facts struct {
	Tankage units.Litres // of its storage
	PeakKW  float64      // highest load of a year
}

// Fault is an interval that was not fitted because it is no plausible reading.
type Fault struct {
	Interval Interval
	Expected units.LitresAt15 // what the model expects of that interval; 0 if it has no model
	Reason   string           // for people: "about ten times the usual: a digit too many?"
}
