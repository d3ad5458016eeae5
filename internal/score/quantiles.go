// Package score holds forecasts of consumption as they were issued against what was burned. It is pure: it is
// given forecasts and usage intervals, and knows nothing of a ledger.
//
// Nothing that was measured is shared out over days. A span is scored only where usage intervals that are
// believed cover it from reading to reading without a gap; where its readings lie a little beside the
// forecast's own ends, the forecast is read at the length that was measured.
package score

import (
	"math"
	"slices"
	"sort"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
)

// Levels are the quantiles that are kept of a forecast: the median, and the ends of the central 50, 80 and 95 %.
var Levels = []float64{low95, low80, 0.25, median, 0.75, high80, high95}

const (
	low95, low80, median, high80, high95 = 0.025, 0.10, 0.50, 0.90, 0.975

	// Days is how far a forecast is kept: eighteen months.
	Days = 546
	step = 7 // days between two of those kept: a season bends by less than a thousandth of a month's burn in between
)

// Quantiles is a forecast as it is kept: what will have been burned by the close of some days, as quantiles.
type Quantiles struct {
	Levels []float64 `json:"levels"`         // rising
	Days   []int     `json:"days"`           // after the origin, rising
	Litres [][]int64 `json:"cumulative_l15"` // at 15 °C since the close of the origin, by day, then by level
}

// Take reads the quantiles to keep out of simulated paths that begin at the close of the origin: every seventh
// day, and the last day of each month, since many plants report by the month.
func Take(paths forecast.Paths, origin calendar.Day) Quantiles {
	q := Quantiles{Levels: Levels, Days: daysKept(origin, paths.Days())}
	burned := make([]float64, paths.Count())
	for _, day := range q.Days {
		for path := range burned {
			burned[path] = paths.Cumulative(path, day)
		}
		var whole []int64
		for _, litres := range forecast.Quantiles(burned, q.Levels...) {
			whole = append(whole, int64(math.Round(litres)))
		}
		q.Litres = append(q.Litres, whole)
	}
	return q
}

func daysKept(origin calendar.Day, horizon int) []int {
	var days []int
	for day := step; day <= horizon; day += step {
		days = append(days, day)
	}
	for month := calendar.MonthOf(origin + 1); ; month = month.Next() {
		day := int(month.Next().First() - 1 - origin)
		if day > horizon {
			break
		}
		days = append(days, day)
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// Check tells whether quantiles that were kept can be read. The error is fault.Invalid.
func (q Quantiles) Check() error {
	wrong := func(what string) error { return fault.New(fault.Invalid, "the forecast %s", what) }
	switch {
	case len(q.Days) == 0 || len(q.Days) != len(q.Litres):
		return wrong("does not state litres for each of its days")
	case q.Days[0] < 1 || !slices.IsSorted(q.Days):
		return wrong("has days out of order")
	case !slices.IsSorted(q.Levels):
		return wrong("has levels out of order")
	}
	for _, level := range []float64{low95, low80, median, high80, high95} {
		if !slices.Contains(q.Levels, level) {
			return wrong("lacks a quantile that it is scored by")
		}
	}
	for _, litres := range q.Litres {
		if len(litres) != len(q.Levels) {
			return wrong("does not state litres for each of its levels")
		}
	}
	return nil
}

// at reads the quantiles for a length of time since the origin, straight between the days kept; false
// beyond the last of them.
func (q Quantiles) at(days float64) ([]float64, bool) {
	next := sort.Search(len(q.Days), func(i int) bool { return float64(q.Days[i]) >= days })
	if next == len(q.Days) {
		return nil, false
	}
	from, before := 0.0, make([]int64, len(q.Levels)) // nothing is burned at the origin
	if next > 0 {
		from, before = float64(q.Days[next-1]), q.Litres[next-1]
	}
	share := (days - from) / (float64(q.Days[next]) - from)
	found := make([]float64, len(q.Levels))
	for i, litres := range q.Litres[next] {
		found[i] = float64(before[i]) + share*float64(litres-before[i])
	}
	return found, true
}

// level picks one of the quantiles that at gave.
func (q Quantiles) level(found []float64, p float64) float64 { return found[slices.Index(q.Levels, p)] }
