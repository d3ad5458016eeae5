package resupply

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
)

// Route is what a supply route says about its deliveries. Lead is order to arrival; slip is the delay
// after that, or after the opening where that is later. Both are medians with standard deviations.
type Route struct {
	ID         string
	LeadDays   float64
	LeadSDDays float64
	SlipDays   float64
	SlipSDDays float64
	Lot        Lot
	Terms      Terms
	Recurring  []Recurring // none: open all year
}

// YearDate is a day of any year.
type YearDate struct {
	Month time.Month
	Day   int
}

// Recurring is a window that comes every year, or in Year alone when that is not 0. What its past
// seasons say stands in for what is stated, where it is known.
type Recurring struct {
	Name         string
	Year         int
	Opens        YearDate // median
	OpensSDDays  float64
	Closes       YearDate // median; before Opens in the calendar: the year after
	ClosesSDDays float64
	FailChance   float64
	OrderBy      *YearDate  // last such date on or before the opening
	CutOff       *YearDate  // first such date on or after the stated opening: nothing is delivered after it, however late the closing is
	Limits       []LotLimit // what bounds the lots of certain days
	Past         *WindowFit // nil: none known, or the window is of one year
}

// Season is one window of one year on a route, before its dates are drawn.
type Season struct {
	Route   *Route
	Window  Recurring
	Year    int          // in which it opens, as stated
	Opens   calendar.Day // median
	Closes  calendar.Day // median, the cut-off not counted
	OrderBy *calendar.Day
	CutOff  *calendar.Day
}

func (d YearDate) in(year int) calendar.Day { return calendar.Date(year, d.Month, d.Day) }

// Seasons lists the windows of all routes that may still be open on the first day and open by the
// last, in order of opening. A route without windows is open all year: it is one window from the
// first day on.
func Seasons(routes []Route, first, last calendar.Day) []Season {
	var found []Season
	for i := range routes {
		r := &routes[i]
		if len(r.Recurring) == 0 {
			found = append(found, Season{Route: r, Window: Recurring{Name: "all year"}, Opens: first, Closes: last})
			continue
		}
		from, _, _ := first.Civil()
		until, _, _ := last.Civil()
		for year := from - 1; year <= until; year++ {
			found = append(found, r.seasonsOf(year, first, last)...)
		}
	}
	slices.SortStableFunc(found, func(a, b Season) int {
		return cmp.Or(cmp.Compare(a.Opens, b.Opens), cmp.Compare(a.Route.ID, b.Route.ID))
	})
	return found
}

// seasonsOf gives the route's windows that open in a year. A window stated for that year stands in
// for the recurring one of the same name.
func (r *Route) seasonsOf(year int, first, last calendar.Day) []Season {
	var found []Season
	for _, w := range r.Recurring {
		replaced := w.Year == 0 && slices.ContainsFunc(r.Recurring, func(o Recurring) bool {
			return o.Year == year && o.Name == w.Name
		})
		if replaced || (w.Year != 0 && w.Year != year) {
			continue
		}
		s := Season{Route: r, Window: w, Year: year, Opens: w.Opens.in(year), Closes: w.Closes.in(year)}
		if s.Closes < s.Opens {
			s.Closes = w.Closes.in(year + 1)
		}
		s.Opens, s.Closes, s.CutOff = s.opening().day(0), s.closing().day(0), w.cutOff(year)
		if w.OrderBy != nil {
			by := w.OrderBy.in(year)
			if by > s.Opens {
				by = w.OrderBy.in(year - 1)
			}
			s.OrderBy = &by
		}
		if s.LateClose() >= first && s.Opens <= last {
			found = append(found, s)
		}
	}
	return found
}

// opening is the opening's distribution, the window's being lost left out.
func (s Season) opening() uncertain {
	return s.Window.Past.opening(s.Year).or(s.Year, uncertain{mid: float64(s.Opens), scale: s.Window.OpensSDDays})
}

// closing is the closing's, likewise.
func (s Season) closing() uncertain {
	return s.Window.Past.closing(s.Year).or(s.Year, uncertain{mid: float64(s.Closes), scale: s.Window.ClosesSDDays})
}

// From says where opening and closing are from.
func (s Season) From() (opens, closes Source) {
	return s.Window.Past.opening(s.Year).source(), s.Window.Past.closing(s.Year).source()
}

// failChance is the chance that the window fails, whatever its dates.
func (s Season) failChance() float64 { return s.Window.Past.failChance(s.Year, s.Window.FailChance) }

// LateClose is the day by which the window has closed with 90 % probability.
func (s Season) LateClose() calendar.Day { return s.shut(s.closing().day(z90)) }

// shut is the last day of delivery where the window closes on a day.
func (s Season) shut(closes calendar.Day) calendar.Day {
	if s.CutOff != nil {
		return min(closes, *s.CutOff)
	}
	return closes
}

// LateArrival is the late end of the opening plus the usual slip and its spread.
func (s Season) LateArrival() calendar.Day {
	return calendar.Day(math.Round(s.opening().at(z90) + z90*s.Route.SlipSDDays + s.Route.SlipDays))
}

// Span is an uncertain day as its 10, 50 and 90 % points.
type Span struct{ P10, P50, P90 calendar.Day }

// Openings gives the points of the opening, the window's being lost left out.
func (s Season) Openings() Span { return s.opening().span() }

// Closings gives the points of the last day of delivery, the window's being lost left out.
func (s Season) Closings() Span {
	c := s.closing().span()
	return Span{s.shut(c.P10), s.shut(c.P50), s.shut(c.P90)}
}

// LossChance is the probability that the window never opens: that it fails, or that its closing or its cut-off
// falls before its opening, closing and opening being independent.
func (s Season) LossChance() float64 {
	if s.AllYear() {
		return 0
	}
	fails, shut := s.failChance(), s.closing().before(s.opening())
	if s.CutOff != nil {
		shut = s.opening().after(s.closing(), *s.CutOff)
	}
	return fails + (1-fails)*shut
}

// AllYear tells that the route has no windows.
func (s Season) AllYear() bool { return len(s.Route.Recurring) == 0 }

// Draw draws the window's dates for every path. The streams are keyed by route, window and year, so
// that all plants that the window serves see it open on the same day of the same path, and their
// orders take the same lead time and slip: they come by the same vessel or convoy.
func (s Season) Draw(asOf calendar.Day, paths int, seed uint64) Window {
	w := Window{
		Route: s.Route.ID, Name: s.Window.Name, Opening: s.Opens, AllYear: s.AllYear(), LossChance: s.LossChance(), Lot: s.Route.Lot,
		Limits: s.limits(asOf), Terms: s.Route.Terms,
		Opens: make([]int, paths), Closes: make([]int, paths), Lead: make([]int, paths), Slip: make([]int, paths),
	}
	if s.OrderBy != nil {
		by := int(*s.OrderBy - asOf)
		w.OrderBy = &by
	}
	opening, closing, failChance := s.opening(), s.closing(), s.failChance()
	name := fmt.Sprintf("window/%s/%s/%s", s.Route.ID, s.Window.Name, s.Opens)
	for p := range paths {
		d := NewDraws(seed, name, p)
		fails := d.Float64() < failChance
		w.Opens[p] = int(opening.day(d.Score()) - asOf)
		w.Closes[p] = int(s.shut(closing.day(d.Score())) - asOf)
		w.Lead[p] = d.Delay(s.Route.LeadDays, s.Route.LeadSDDays)
		w.Slip[p] = d.Delay(s.Route.SlipDays, s.Route.SlipSDDays)
		switch {
		case s.AllYear():
			w.Closes[p] = Never
		case fails || w.Closes[p] < w.Opens[p]:
			w.Opens[p] = Never
		}
	}
	return w
}

// LateEnd is the last day on which fuel from the window may still come, with 90 % probability.
func (s Season) LateEnd() calendar.Day {
	return max(s.LateClose(), s.LateArrival())
}
