package replay

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// window is the name of the one window that a route has a year.
const window = "window"

// fitted gives a route whose windows are foretold from past seasons, the lags added.
func (s *Scenario) fitted(id string, past []resupply.PastSeason) (*route, error) {
	chance := s.Window.FailChance
	fit, err := resupply.FitWindow(past, resupply.Basis{
		OpensLag: resupply.Lag{Days: s.Window.OpensLag}, ClosesLag: resupply.Lag{Days: s.Window.ClosesLag}, FailChance: &chance,
	})
	if err != nil {
		return nil, err
	}
	fit.Fail.Chance = chance // stated for sure: that no past season failed says nothing against it
	return &route{id: id, terms: resupply.Route{
		ID: id, LeadDays: s.Delivery.Lead, LeadSDDays: s.Delivery.LeadSD, Lot: s.Delivery.Lot,
		Recurring: []resupply.Recurring{{
			Name: window, Opens: resupply.YearDate{Month: time.January, Day: 1}, Closes: resupply.YearDate{Month: time.December, Day: 31},
			FailChance: chance, Past: &fit,
		}},
	}}, nil
}

// season is a window of one year as it went.
type season struct {
	fails         bool
	opens, closes calendar.Day // closes is the last day on which fuel can arrive
	usual         calendar.Day // on which it opens, as foretold
	lead          int          // days from order to arrival
}

// shut tells that nothing can arrive after a day; of a failed window nobody knows until its usual time has passed.
func (s season) shut(day calendar.Day) bool { return !s.fails && s.closes <= day }

func (s season) open(day calendar.Day) bool { return !s.fails && s.opens <= day }

// longest is how many days a window may last or be late: seasons that began so long ago may matter.
const longest = 300

// went draws the seasons of a route as they went, by year, in one of the worlds.
func (r *route) went(s *Scenario, worldSeed uint64) map[int]season {
	all := map[int]season{}
	for _, one := range resupply.Seasons([]resupply.Route{r.terms}, s.Start-longest, s.End) {
		w := one.Draw(s.Start, 1, worldSeed)
		all[one.Year] = season{
			fails: w.Opens[0] == resupply.Never, lead: w.Lead[0], usual: one.Opens,
			opens: s.Start + calendar.Day(w.Opens[0]), closes: s.Start + calendar.Day(w.Closes[0]),
		}
	}
	return all
}

// outlook is a window as it may still come, drawn for every path; days count from the as-of day.
type outlook struct {
	year int
	resupply.Window
}

// mostDraws bounds how often as many seasons are drawn as there are paths, to find those that agree with what has been seen.
const mostDraws = 40

// outlooks gives the windows that may still deliver, in order, as a planner expects them who has seen which of them have opened or shut by
// the as-of day. A window that has not opened may have failed.
func (r *route) outlooks(went map[int]season, asOf calendar.Day, horizon, paths int, seed uint64) []outlook {
	var all []outlook
	for _, one := range resupply.Seasons([]resupply.Route{r.terms}, asOf-longest, asOf+calendar.Day(horizon)) {
		known, replayed := went[one.Year]
		if replayed && known.shut(asOf) {
			continue
		}
		o := outlook{year: one.Year, Window: resupply.Window{Route: r.id, Name: window, Opening: one.Opens, Lot: r.terms.Lot}}
		opened := replayed && known.open(asOf)
		for block := uint64(0); len(o.Opens) < paths && block < mostDraws; block++ {
			o.add(one.Draw(asOf, paths, seed+block), opened, int(known.opens-asOf), paths)
		}
		if o.repeat(paths) {
			all = append(all, o)
		}
	}
	return all
}

// add takes over the draws that agree with what is known.
func (o *outlook) add(w resupply.Window, opened bool, opens, paths int) {
	for p := range w.Opens {
		if len(o.Opens) == paths {
			return
		}
		at, agrees := w.Opens[p], w.Opens[p] > 0
		if opened {
			at, agrees = opens, w.Opens[p] != resupply.Never && w.Closes[p] > max(0, opens)
		}
		if agrees {
			o.Opens, o.Closes = append(o.Opens, at), append(o.Closes, w.Closes[p])
			o.Lead, o.Slip = append(o.Lead, w.Lead[p]), append(o.Slip, w.Slip[p])
		}
	}
}

// repeat fills up to the number of paths with what was found; it reports false where the window opens on none.
func (o *outlook) repeat(paths int) bool {
	found, opens := len(o.Opens), 0
	for p := range paths {
		if found == 0 {
			return false
		}
		if p >= found {
			o.Opens, o.Closes = append(o.Opens, o.Opens[p%found]), append(o.Closes, o.Closes[p%found])
			o.Lead, o.Slip = append(o.Lead, o.Lead[p%found]), append(o.Slip, o.Slip[p%found])
		}
		if o.Opens[p] != resupply.Never {
			opens++
		}
	}
	o.LossChance = 1 - float64(opens)/float64(paths)
	return opens > 0
}
