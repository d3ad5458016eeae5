package replay

import (
	"context"
	"strings"

	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
	"overwinter/internal/sheet"
)

// Files are the tables of a replay and its scenario; docs/replay.md describes them.
type Files struct{ History, Plants, PastWindows, Scenario sheet.Source }

// Read reads a case. A fault.Invalid error lists what is wrong.
func Read(ctx context.Context, files Files) (*Case, error) {
	scenario, err := readScenario(files.Scenario.Name, files.Scenario.In)
	if err != nil {
		return nil, err
	}
	fleet, err := backtest.Read(ctx, backtest.Files{History: &files.History})
	if err != nil {
		return nil, err
	}
	r := reading{ctx: ctx, c: &Case{Scenario: *scenario, fleet: fleet}, routes: map[string]*past{}, series: map[string]int{}, names: files}
	for i, s := range fleet.Series() {
		r.series[s.ID] = i
	}
	if err := r.pastWindows(files.PastWindows); err != nil {
		return nil, err
	}
	if err := r.plants(files.Plants); err != nil {
		return nil, err
	}
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return r.c, nil
}

// reading is the tables while they are read.
type reading struct {
	ctx      context.Context
	c        *Case
	names    Files
	series   map[string]int
	routes   map[string]*past
	problems sheet.Problems
}

// past is a route's past seasons.
type past struct {
	seasons []resupply.PastSeason
	lines   map[int]int // by year
	route   *route
}

func (r *reading) pastWindows(file sheet.Source) error {
	s := r.problems.New(file, []string{"route", "year", "opens", "closes"})
	var order []string
	err := s.Read(r.ctx, func(one *sheet.Row) {
		id := strings.Clone(one.Needed("route"))
		season := resupply.PastSeason{Year: year(one), Opens: maybe(one, "opens"), Closes: maybe(one, "closes")}
		if one.Bad {
			return
		}
		p := r.routes[id]
		if p == nil {
			p = &past{lines: map[int]int{}}
			r.routes[id], order = p, append(order, id)
		}
		if before := p.lines[season.Year]; before > 0 {
			one.Wrong("year", "route %s has %d in row %d already: keep one", sheet.Quote(id), season.Year, before)
			return
		}
		p.lines[season.Year] = one.Line
		p.seasons = append(p.seasons, season)
	})
	if err != nil || r.problems.Err() != nil {
		return err
	}
	for _, id := range order {
		r.fit(s, id)
	}
	return nil
}

// fit fits a route's windows.
func (r *reading) fit(s *sheet.Sheet, id string) {
	p := r.routes[id]
	route, err := r.c.Scenario.fitted(id, p.seasons)
	if err != nil {
		s.Problem(0, "", "route %s: %v", sheet.Quote(id), err)
		return
	}
	if fit := route.terms.Recurring[0].Past; fit.Opens == nil || fit.Closes == nil {
		s.Problem(0, "", "route %s: expected %d years or more with opens, and as many with closes, among the last %d", sheet.Quote(id), resupply.LeastDates, resupply.NormalYears)
		return
	}
	p.route = route
}

func year(one *sheet.Row) int {
	x := one.Number("year")
	switch {
	case one.Needed("year") == "" || x == nil:
		return 0
	case *x != float64(int(*x)) || *x < 1500 || *x > 2200:
		one.Wrong("year", "%s: expected a year from 1500 to 2200", sheet.Quote(one.Text("year")))
		return 0
	}
	return int(*x)
}

// maybe reads a day, nil where blank.
func maybe(one *sheet.Row, column string) *calendar.Day {
	if one.Text(column) == "" {
		return nil
	}
	d := one.Day(column)
	return &d
}

func (r *reading) plants(file sheet.Source) error {
	s := r.problems.New(file, []string{"series_id", "usable_l", "route"})
	lines := map[string]int{}
	return s.Read(r.ctx, func(one *sheet.Row) {
		id, name := strings.Clone(one.Needed("series_id")), one.Needed("route")
		p := &Plant{ID: id}
		if x := one.Positive("usable_l"); one.Needed("usable_l") != "" && x != nil {
			p.Usable = *x
		}
		if before := lines[id]; before > 0 {
			one.Wrong("series_id", "%s has row %d already: keep one", sheet.Quote(id), before)
		}
		lines[id] = one.Line
		if past := r.routes[name]; past != nil {
			p.route = past.route
		} else if name != "" {
			one.Wrong("route", "%s has no past windows in %s: add them, or mend the name", sheet.Quote(name), r.names.PastWindows.Name)
		}
		if r.history(one, p); !one.Bad {
			r.c.Plants = append(r.c.Plants, p)
		}
	})
}

// history finds what the plant burned: every day of the replay must be known, and some days before it.
func (r *reading) history(one *sheet.Row, p *Plant) {
	if p.ID == "" {
		return
	}
	at, known := r.series[p.ID]
	if !known {
		one.Wrong("series_id", "%s has no history in %s: add it, or mend the name", sheet.Quote(p.ID), r.names.History.Name)
		return
	}
	p.series, p.use = at, useOf(r.c.fleet.Series()[at])
	s := &r.c.Scenario
	if p.use.first >= s.Start {
		one.Wrong("series_id", "the history of %s begins on %s: expected some before the start of the replay, %s, to forecast from", sheet.Quote(p.ID), p.use.first, s.Start)
		return
	}
	for day := s.Start; day <= s.End; day++ {
		if !p.use.knows(day) {
			one.Wrong("series_id", "the history of %s does not say what was burned on %s: expected litres of 0 or more for every day from %s to %s", sheet.Quote(p.ID), day, s.Start, s.End)
			return
		}
	}
}
