package resupply

import "overwinter/internal/calendar"

// Source says where a window's date is from.
type Source string

// The sources: the first that there is counts.
const (
	Happened Source = "happened" // of this very season
	ByPast   Source = "past seasons"
	Stated   Source = "stated"
)

// Sources lists every source.
func Sources() []Source { return []Source{Happened, ByPast, Stated} }

// seasonDate is what may be known of a season's date: the event itself, or a fit to past ones.
type seasonDate struct {
	event *calendar.Day
	fit   *DateFit
	lag   Lag
}

func (d seasonDate) source() Source {
	switch {
	case d.event != nil:
		return Happened
	case d.fit != nil:
		return ByPast
	}
	return Stated
}

// or gives the date's distribution in the season of a year, what is stated where no more is known.
func (d seasonDate) or(year int, stated uncertain) uncertain {
	switch d.source() {
	case Happened:
		return uncertain{mid: float64(*d.event) + d.lag.Days, scale: d.lag.SDDays}
	case ByPast:
		return d.fit.uncertain(year)
	}
	return stated
}
