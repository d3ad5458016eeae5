package advice

import (
	"fmt"
	"sync"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// PastSeasons turns the ledger's past windows into what a window is fitted to.
func PastSeasons(rows []*inventory.PastWindow) []resupply.PastSeason {
	var all []resupply.PastSeason
	for _, p := range rows {
		all = append(all, resupply.PastSeason{Year: p.Year, Opens: p.Opens, Closes: p.Closes, Failed: p.Failed})
	}
	return all
}

// pastFits keeps what windows were fitted to their past, since many plants share them.
type pastFits struct {
	sync.Mutex
	done map[windowAsOf]*pastFit
}

type windowAsOf struct {
	window *inventory.Window
	asOf   calendar.Day
}

// pastFit is a recurring window's fit, or why there is none.
type pastFit struct {
	once sync.Once
	fit  *resupply.WindowFit
	err  error
}

// pastOf fits a window to what was known of its past at the close of a day; nil where nothing was, or
// where the window is of one year: then what is stated for that year counts.
func (r *run) pastOf(w *inventory.Window, asOf calendar.Day) (*resupply.WindowFit, error) {
	if w.Year != 0 {
		return nil, nil
	}
	r.past.Lock()
	p := r.past.done[windowAsOf{w, asOf}]
	if p == nil {
		p = &pastFit{}
		r.past.done[windowAsOf{w, asOf}] = p
	}
	r.past.Unlock()
	p.once.Do(func() { p.fit, p.err = fitPast(w, knownBy(asOf, r.dir.PastOf(w.Route, w.Name))) })
	return p.fit, p.err
}

func fitPast(w *inventory.Window, past []resupply.PastSeason) (*resupply.WindowFit, error) {
	if len(past) == 0 {
		return nil, nil
	}
	fit, err := resupply.FitWindow(past, resupply.Basis{
		OpensLag:  resupply.Lag{Days: w.OpensLagDays, SDDays: w.OpensLagSDDays},
		ClosesLag: resupply.Lag{Days: w.ClosesLagDays, SDDays: w.ClosesLagSDDays}, FailChance: &w.FailChance,
	})
	if err != nil {
		return nil, err
	}
	return &fit, nil
}

// knownBy leaves out what was not known yet at the close of a day: dates after it, and failures of seasons of
// later years.
func knownBy(asOf calendar.Day, rows []*inventory.PastWindow) []resupply.PastSeason {
	year, _, _ := asOf.Civil()
	var all []resupply.PastSeason
	for _, p := range PastSeasons(rows) {
		if p.Opens != nil && *p.Opens > asOf {
			p.Opens = nil
		}
		if p.Closes != nil && *p.Closes > asOf {
			p.Closes = nil
		}
		if p.Opens != nil || p.Closes != nil || p.Failed && p.Year <= year {
			all = append(all, p)
		}
	}
	return all
}

// The codes of the notices on windows and their past.
const (
	CodeWindowByPast     = "window-by-past"
	CodePastDatesFew     = "past-dates-few"
	CodePastDatesOld     = "past-dates-old"
	CodePastDateOdd      = "past-date-odd"
	CodePastDatesWrong   = "past-dates-wrong"
	CodeStatedUnlikePast = "stated-unlike-past"
)

// oldPast is after how many years the newest past date says little of the coming one; common practice, no
// source.
const oldPast = 10

// pastNotices says for each of a plant's windows what of its past counts, and what is taken for given by it.
func (r *run) pastNotices(plant string, asOf calendar.Day) (told notice.List, assumed []string) {
	year, _, _ := asOf.Civil()
	for _, route := range r.dir.RoutesOf(plant) {
		for _, w := range r.dir.WindowsOf(route.ID) {
			fit, err := r.pastOf(w, asOf)
			if err != nil {
				told.Add(notice.New(notice.Caution, CodePastDatesWrong, windowName(w), "the stated dates count, since its past dates do not agree: %v", err))
			}
			if fit == nil {
				continue
			}
			for _, d := range []pastDate{{w, "opening", fit.Opens, w.Opens}, {w, "closing", fit.Closes, w.Closes}} {
				told.Add(d.notices(year)...)
				if d.fit != nil {
					assumed = append(assumed, fmt.Sprintf("%s of %s by past years %s", d.what, windowName(w), d.years()))
				}
			}
		}
	}
	return told, assumed
}

func windowName(w *inventory.Window) string { return fmt.Sprintf("window %s of %s", w.Name, w.Route) }

// pastDate is one date of a window that has a past; fit is nil where that is too short.
type pastDate struct {
	window *inventory.Window
	what   string
	fit    *resupply.DateFit
	stated inventory.MonthDay
}

func (d pastDate) years() string {
	return fmt.Sprintf("%d to %d", d.fit.Years[0], d.fit.Years[len(d.fit.Years)-1])
}

// notices says what the date is foretold from, and what is odd about it.
func (d pastDate) notices(year int) notice.List {
	var l notice.List
	add := func(severity notice.Severity, code, format string, args ...any) {
		l.Add(notice.New(severity, code, windowName(d.window)+", "+d.what, format, args...))
	}
	if d.fit == nil {
		add(notice.Info, CodePastDatesFew, "what is stated counts: fewer than %d past dates are known in the last %d years", resupply.LeastDates, resupply.NormalYears)
		return l
	}
	span := d.fit.In(year)
	add(notice.Info, CodeWindowByPast, "foretold from %d past dates, %s, law %s: %s, %s to %s with 80 %%; what is stated does not count",
		len(d.fit.Years), d.years(), d.fit.Law, span.P50, span.P10, span.P90)
	if last := d.fit.Years[len(d.fit.Years)-1]; year-last > oldPast {
		add(notice.Caution, CodePastDatesOld, "the newest past date is of %d: enter those since", last)
	}
	for _, o := range d.fit.Odd {
		add(notice.Info, CodePastDateOdd, "the date of %d lies %s where the others would have it: it counts; correct it if it is a slip", o.Year, aside(o.Off))
	}
	if off := d.fit.Apart(resupply.YearDate(d.stated), year); off != 0 {
		add(notice.Caution, CodeStatedUnlikePast, "past dates count, and what is stated lies %s the middle eight tenths of them: correct the one or the other", aside(off))
	}
	return l
}

func aside(days int) string {
	if days < 0 {
		return fmt.Sprintf("%d days before", -days)
	}
	return fmt.Sprintf("%d days after", days)
}
