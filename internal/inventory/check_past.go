package inventory

import (
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Check says what is wrong with the past window's row; see [Plant.Check].
func (p *PastWindow) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&p.Entry)
	f.id("window", p.Name)
	if p.Void {
		f.id("route", p.Route)
		return f
	}
	if _, ok := f.route(dir, p.Route); ok {
		f.recurring(dir, p)
	}
	f.year("year", p.Year)
	f.became(p)
	f.ofSeason("opens", p.Opens, p.Year, now)
	f.ofSeason("closes", p.Closes, p.Year, now)
	if p.Opens != nil && p.Closes != nil && *p.Closes < *p.Opens {
		f.add("closes", "%s is before the opening, %s: expected the opening first", *p.Closes, *p.Opens)
	}
	return f
}

// recurring looks up the window that the past one is of: without it nobody would use the row.
func (f *findings) recurring(dir *Directory, p *PastWindow) {
	all := slices.DeleteFunc(dir.WindowsOf(p.Route), func(w *Window) bool { return w.Year != 0 })
	if slices.ContainsFunc(all, func(w *Window) bool { return w.Name == p.Name }) || p.Name == "" {
		return
	}
	f.unknown("window", p.Name, "recurring window", " of route "+p.Route, names(all, func(w *Window) string { return w.Name }))
}

// became checks that a row says what became of the window, and one thing only.
func (f *findings) became(p *PastWindow) {
	dates := p.Opens != nil || p.Closes != nil
	switch {
	case p.Failed && dates:
		f.add("failed", "the window failed in %d, yet has a date: expected either", p.Year)
	case !p.Failed && !dates:
		f.add("opens", "blank, and so is closes: expected a date, or yes in failed; leave a year out of which nothing is known")
	}
}

// firstZone is where a day begins first: a window is of no one place.
var firstZone = time.FixedZone("first", 14*60*60)

// ofSeason checks that a date is not still to come, and may be one of the season of a year. Where the
// window opens around New Year, or closes in the year after, the two differ.
func (f *findings) ofSeason(where string, day *calendar.Day, year int, now time.Time) {
	if day == nil {
		return
	}
	if today := calendar.DayOf(now, firstZone); *day > today {
		f.add(where, "%s is in the future: nowhere is it later than %s; check the date", *day, today)
	}
	first, last := calendar.Date(year-1, time.July, 1), calendar.Date(year+1, time.December, 31)
	if *day < first || *day > last {
		f.add(where, "%s is no date of the season of %d: expected %s to %s; check the year", *day, year, first, last)
	}
}
