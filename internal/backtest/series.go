// Package backtest forecasts the past: for series of usage it says what the consumption model would have said
// at an earlier date, from what was known before that date and nothing else, so that it can be scored on
// what followed. Tables of rows go in, rows of quantiles and notices come out.
package backtest

import (
	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Span is a run of whole days: from Start up to, not including, End.
type Span struct {
	Start, End calendar.Day
	line       int // of its row in the file, for messages
}

func (s Span) span() Span { return s }

// Usage is a row of history: what was burned, and generated, in a span.
type Usage struct {
	Span
	Litres *units.LitresAt15 // nil where it was not reported
	Energy *float64          // kWh; nil where it was not reported
}

// Interval is a span to be forecast.
type Interval struct {
	Span
	Counted bool // in the cumulative total
}

// DegreeDays is how cold a span was: the sum over its days of how far the mean temperature lay below a
// base. The base is the file's own: only ratios are meant to be used.
type DegreeDays struct {
	Span
	Sum float64
}

// Facts is what is known of a plant apart from its history; what is not known is nil.
type Facts struct {
	Group   string // the climate group that it shares its season with; may be empty
	Tankage *units.Litres
	PeakKW  *float64
}

// Series is one plant's rows, each kind in order of time.
type Series struct {
	ID         string
	Usage      []Usage
	Intervals  []Interval // none for a plant that is only there to lend its season
	DegreeDays []DegreeDays
	Facts      Facts
	stated     bool // in the file of plants
}

// Origin is the start of the first interval: what is known of the past ends with the day before.
func (s *Series) Origin() calendar.Day { return s.Intervals[0].Start }

// horizon is the days from the origin to the end of the last interval.
func (s *Series) horizon() int { return int(s.Intervals[len(s.Intervals)-1].End - s.Origin()) }

// before gives the rows that end by a day.
func before[T interface{ span() Span }](rows []T, day calendar.Day) []T {
	n := len(rows)
	for n > 0 && rows[n-1].span().End > day { // rows do not overlap, so their ends are in order, too
		n--
	}
	return rows[:n]
}

// Fleet is all series, in the order in which the files first name them: intervals, then history.
type Fleet struct {
	series []*Series
	index  map[string]*Series
	strays []*Series // of the other files alone: they play no part
}

// Series gives the series.
func (f *Fleet) Series() []*Series { return f.series }
