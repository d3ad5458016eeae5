package score

import (
	"math"
	"sort"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// Tolerance is how many days a reading may lie from an end of the span that was forecast: half a week, so that a
// plant that is dipped once a week is scored. Common practice, no source. A span that begins so much later than
// the forecast differs from it by the season of those days alone, about 1 % of a month's burn, less of a longer span's.
const Tolerance = 3.5

// Reason says why a span that has passed is not scored.
type Reason string

// The reasons, the first that holds.
const (
	NoReadingAtStart Reason = "no-reading-at-start"
	NoReadingAtEnd   Reason = "no-reading-at-end" // it may still come
	Gap              Reason = "gap"               // an interval between is missing, or is not believed
	NothingBurned    Reason = "nothing-burned"    // there is nothing that an error could be a share of
	BeyondForecast   Reason = "beyond-forecast"   // the forecast was not kept so far
)

// Reasons lists them.
func Reasons() []Reason {
	return []Reason{NoReadingAtStart, NoReadingAtEnd, Gap, NothingBurned, BeyondForecast}
}

// span is a stretch of the plant's day line that usage intervals cover without a gap.
type span struct {
	start, end float64
	litres     float64
}

func (s span) days() float64 { return s.end - s.start }

// covered finds the span between the readings nearest to two moments; the reason is "" where there is one.
// The intervals are in order of time and do not overlap.
func covered(usages []forecast.Interval, start, end float64) (span, Reason) {
	first := nearest(usages, start, func(i forecast.Interval) float64 { return i.Start })
	if first < 0 {
		return span{}, NoReadingAtStart
	}
	last := nearest(usages, end, func(i forecast.Interval) float64 { return i.End })
	if last < 0 {
		return span{}, NoReadingAtEnd
	}
	if last < first {
		return span{}, Gap
	}
	found := span{start: usages[first].Start, end: usages[last].End}
	for i := first; i <= last; i++ {
		if i > first && usages[i].Start != usages[i-1].End {
			return span{}, Gap
		}
		found.litres += float64(usages[i].Litres)
	}
	return found, ""
}

// nearest finds the interval whose end of a kind lies nearest to a moment, the earlier of two; -1 where none is near
// enough.
func nearest(usages []forecast.Interval, moment float64, edge func(forecast.Interval) float64) int {
	next := sort.Search(len(usages), func(i int) bool { return edge(usages[i]) >= moment })
	found, distance := -1, Tolerance
	for i := max(next-1, 0); i <= min(next, len(usages)-1); i++ {
		if d := math.Abs(edge(usages[i]) - moment); d < distance || found < 0 && d == distance {
			found, distance = i, d
		}
	}
	return found
}

// later gives the same day of the month so many months on, earlier where that is negative; the last of a month
// that is too short for it.
func later(d calendar.Day, months int) calendar.Day {
	_, _, day := d.Civil()
	month := calendar.MonthOf(d).Plus(months)
	return min(month.First()+calendar.Day(day-1), month.Next().First()-1)
}
