package backtest

import (
	"cmp"
	"context"
	"io"
	"slices"
	"strings"

	"overwinter/internal/units"
)

// Source is a CSV file to be read.
type Source struct {
	Name string // for messages
	In   io.Reader
}

// Files are the tables of a backtest; docs/backtest.md lists their columns.
type Files struct {
	History, Intervals *Source
	DegreeDays, Plants *Source // nil where there is none
}

// farthest is how many days after its origin the last interval of a series may end: ten years.
const farthest = 3660

// Read reads the tables. A fault.Invalid error lists what is wrong in all of them.
func Read(ctx context.Context, files Files) (*Fleet, error) {
	r := reading{ctx: ctx, fleet: &Fleet{index: map[string]*Series{}}}
	readers := []func() error{
		func() error { return r.intervals(*files.Intervals) },
		func() error { return r.history(*files.History) },
	}
	if files.DegreeDays != nil {
		readers = append(readers, func() error { return r.degreeDays(*files.DegreeDays) })
	}
	if files.Plants != nil {
		readers = append(readers, func() error { return r.plants(*files.Plants) })
	}
	for _, read := range readers {
		if err := read(); err != nil {
			return nil, err
		}
	}
	if err := r.problems.fault(); err != nil {
		return nil, err
	}
	return r.fleet, nil
}

// reading is the tables while they are read.
type reading struct {
	ctx      context.Context
	fleet    *Fleet
	problems problems
	files    int
}

func (r *reading) sheet(name string, required []string, optional ...string) *sheet {
	r.files++
	return &sheet{order: r.files, file: name, required: required, optional: optional, problems: &r.problems}
}

// series finds the series of a row. A new one joins the fleet, or is a stray.
func (r *reading) series(one *row, joins bool) *Series {
	id := one.needed("series_id")
	s, known := r.fleet.index[id]
	if known || one.bad {
		return s
	}
	s = &Series{ID: strings.Clone(id)} // a field shares memory with its whole line
	r.fleet.index[s.ID] = s
	if joins {
		r.fleet.series = append(r.fleet.series, s)
	} else {
		r.fleet.strays = append(r.fleet.strays, s)
	}
	return s
}

func (r *reading) intervals(file Source) error {
	s := r.sheet(file.Name, []string{"series_id", "start", "end", "counted"})
	err := s.read(r.ctx, file.In, func(one *row) {
		i := Interval{Span: one.span(), Counted: one.text("counted") == "1"}
		if field := one.needed("counted"); field != "" && field != "0" && field != "1" {
			one.wrong("counted", "%s: expected 1 for a row that the cumulative total adds, 0 for one that it leaves out", quote(field))
		}
		if to := r.series(one, true); !one.bad {
			to.Intervals = append(to.Intervals, i)
		}
	})
	for _, one := range r.fleet.series {
		inOrder(s, one.Intervals)
		if n := len(one.Intervals); n > 0 && one.horizon() > farthest {
			s.problem(one.Intervals[n-1].line, "end", "more than %d days after the first start of its series, %s: check the dates; ten years is the farthest", farthest, one.Origin())
		}
	}
	return err
}

func (r *reading) history(file Source) error {
	s := r.sheet(file.Name, []string{"series_id", "start", "end", "litres"}, "kwh")
	err := s.read(r.ctx, file.In, func(one *row) {
		u := Usage{Span: one.span(), Litres: (*units.LitresAt15)(one.number("litres")), Energy: one.number("kwh")}
		if to := r.series(one, true); !one.bad {
			to.Usage = append(to.Usage, u)
		}
	})
	for _, one := range r.fleet.series {
		inOrder(s, one.Usage)
	}
	return err
}

func (r *reading) degreeDays(file Source) error {
	s := r.sheet(file.Name, []string{"series_id", "start", "end", "hdd"})
	err := s.read(r.ctx, file.In, func(one *row) {
		d := DegreeDays{Span: one.span()}
		if one.needed("hdd") != "" {
			if x := one.number("hdd"); x != nil && *x < 0 {
				one.wrong("hdd", "%s: expected 0 or more heating degree days", quote(one.text("hdd")))
			} else if x != nil {
				d.Sum = *x
			}
		}
		if to := r.series(one, false); !one.bad {
			to.DegreeDays = append(to.DegreeDays, d)
		}
	})
	for _, one := range slices.Concat(r.fleet.series, r.fleet.strays) {
		inOrder(s, one.DegreeDays)
	}
	return err
}

func (r *reading) plants(file Source) error {
	s := r.sheet(file.Name, []string{"series_id"}, "tankage_l", "peak_kw", "group")
	return s.read(r.ctx, file.In, func(one *row) {
		facts := Facts{
			Group:   strings.Clone(one.text("group")),
			Tankage: (*units.Litres)(one.positive("tankage_l")),
			PeakKW:  one.positive("peak_kw"),
		}
		to := r.series(one, false)
		if to != nil && to.stated {
			one.wrong("series_id", "%s has a row already: keep one", quote(to.ID))
		}
		if !one.bad {
			to.Facts, to.stated = facts, true
		}
	})
}

// inOrder sorts the rows of a series by time and names those that overlap: their days would count twice.
func inOrder[T interface{ span() Span }](s *sheet, rows []T) {
	slices.SortStableFunc(rows, func(a, b T) int {
		return cmp.Or(cmp.Compare(a.span().Start, b.span().Start), cmp.Compare(a.span().line, b.span().line))
	})
	var last Span // the row that reaches farthest so far
	for i, row := range rows {
		now := row.span()
		if i > 0 && now.Start < last.End {
			s.overlap(now, last)
		}
		if i == 0 || now.End > last.End {
			last = now
		}
	}
}

// overlap names the row that stands later in the file.
func (s *sheet) overlap(a, b Span) {
	if a.line < b.line {
		a, b = b, a
	}
	s.problem(a.line, "start", "%s to %s overlaps row %d of the same series, %s to %s: rows of a series share no day; keep one, or mend the dates",
		a.Start, a.End, b.line, b.Start, b.End)
}
