package resupply

import (
	"math"
	"time"

	"overwinter/internal/calendar"
)

// LotLimit bounds the lots that arrive on certain days of each year.
type LotLimit struct {
	From, Until YearDate // included; Until before From in the calendar: the year after
	Litres      float64
	Why         Limit
}

// DayLimit is such a limit in one season, by day index.
type DayLimit struct {
	From, Until int // included
	Litres      float64
	Why         Limit
}

// Largest gives the most litres that one delivery may bring on a day, and what sets that; infinity and an
// empty limit where nothing does.
func (w *Window) Largest(day int) (litres float64, why Limit) {
	litres = math.Inf(1)
	if w.Lot.Max > 0 {
		litres, why = w.Lot.Max, RouteLimit
	}
	for _, l := range w.Limits {
		if l.From <= day && day <= l.Until && l.Litres < litres {
			litres, why = l.Litres, l.Why
		}
	}
	return litres, why
}

// brought is the lot as it arrives on a day: kept to what may come then, in whole steps.
func (w *Window) brought(lot float64, day int) delivery {
	if largest, _ := w.Largest(day); lot > largest {
		lot = w.Lot.fit(lot, largest)
	}
	return delivery{lot, day}
}

// limits puts the season's limits on their days. Those of the years around it count, too: a season may begin in
// one year and end in the next.
func (s Season) limits(asOf calendar.Day) []DayLimit {
	var all []DayLimit
	for _, l := range s.Window.Limits {
		for year := s.Year - 2; year <= s.Year+1; year++ {
			ends := year
			if l.Until.before(l.From) {
				ends++
			}
			from, until := l.From.in(year), l.Until.lastIn(ends)
			if until >= max(from, asOf) {
				all = append(all, DayLimit{From: int(from - asOf), Until: int(until - asOf), Litres: l.Litres, Why: l.Why})
			}
		}
	}
	return all
}

// cutOff gives the season's last day of delivery, nil where none is stated.
func (w *Recurring) cutOff(year int) *calendar.Day {
	if w.CutOff == nil {
		return nil
	}
	if w.CutOff.before(w.Opens) {
		year++
	}
	day := w.CutOff.lastIn(year)
	return &day
}

// before compares within one calendar year.
func (d YearDate) before(o YearDate) bool {
	return d.Month < o.Month || d.Month == o.Month && d.Day < o.Day
}

// lastIn is the date as a last day: 29 February is the 28th in a common year.
func (d YearDate) lastIn(year int) calendar.Day {
	if d == (YearDate{time.February, 29}) {
		return calendar.Date(year, time.March, 1) - 1
	}
	return d.in(year)
}
