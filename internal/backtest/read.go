package backtest

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"overwinter/internal/sheet"
	"overwinter/internal/units"
)

// Source is a CSV file to be read.
type Source = sheet.Source

// Files are the tables of a backtest; docs/backtest.md lists their columns.
type Files struct {
	History                       *Source
	Intervals, DegreeDays, Plants *Source // nil where there is none
}

// farthest is how many days after its origin the last interval of a series may end: ten years.
const farthest = 3660

// Read reads the tables. A fault.Invalid error lists what is wrong in all of them.
func Read(ctx context.Context, files Files) (*Fleet, error) {
	r := reading{ctx: ctx, fleet: &Fleet{index: map[string]*Series{}}}
	var readers []func() error
	if files.Intervals != nil {
		readers = append(readers, func() error { return r.intervals(*files.Intervals) })
	}
	readers = append(readers, func() error { return r.history(*files.History) })
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
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return r.fleet, nil
}

// reading is the tables while they are read.
type reading struct {
	ctx      context.Context
	fleet    *Fleet
	problems sheet.Problems
}

// series finds the series of a row. A new one joins the fleet, or is a stray.
func (r *reading) series(one *sheet.Row, joins bool) *Series {
	id := one.Needed("series_id")
	s, known := r.fleet.index[id]
	if known || one.Bad {
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

// spanOf reads the columns start and end.
func spanOf(r *sheet.Row) Span {
	s := Span{Start: r.Day("start"), End: r.Day("end"), line: r.Line}
	if !r.Bad && s.End <= s.Start {
		r.Wrong("end", "%s is not after the start %s: expected the first day that no longer belongs to the row", s.End, s.Start)
	}
	return s
}

func (r *reading) intervals(file Source) error {
	s := r.problems.New(file, []string{"series_id", "start", "end", "counted"})
	err := s.Read(r.ctx, func(one *sheet.Row) {
		i := Interval{Span: spanOf(one), Counted: one.Text("counted") == "1"}
		if field := one.Needed("counted"); field != "" && field != "0" && field != "1" {
			one.Wrong("counted", "%s: expected 1 for a row that the cumulative total adds, 0 for one that it leaves out", sheet.Quote(field))
		}
		if to := r.series(one, true); !one.Bad {
			to.Intervals = append(to.Intervals, i)
		}
	})
	for _, one := range r.fleet.series {
		inOrder(s, one.Intervals)
		if n := len(one.Intervals); n > 0 && one.horizon() > farthest {
			s.Problem(one.Intervals[n-1].line, "end", "more than %d days after the first start of its series, %s: check the dates; ten years is the farthest", farthest, one.Origin())
		}
	}
	return err
}

func (r *reading) history(file Source) error {
	s := r.problems.New(file, []string{"series_id", "start", "end", "litres"}, "kwh")
	err := s.Read(r.ctx, func(one *sheet.Row) {
		u := Usage{Span: spanOf(one), Litres: (*units.LitresAt15)(one.Number("litres")), Energy: one.Number("kwh")}
		if to := r.series(one, true); !one.Bad {
			to.Usage = append(to.Usage, u)
		}
	})
	for _, one := range r.fleet.series {
		inOrder(s, one.Usage)
	}
	return err
}

func (r *reading) degreeDays(file Source) error {
	s := r.problems.New(file, []string{"series_id", "start", "end", "hdd"})
	err := s.Read(r.ctx, func(one *sheet.Row) {
		d := DegreeDays{Span: spanOf(one)}
		if one.Needed("hdd") != "" {
			if x := one.Number("hdd"); x != nil && *x < 0 {
				one.Wrong("hdd", "%s: expected 0 or more heating degree days", sheet.Quote(one.Text("hdd")))
			} else if x != nil {
				d.Sum = *x
			}
		}
		if to := r.series(one, false); !one.Bad {
			to.DegreeDays = append(to.DegreeDays, d)
		}
	})
	for _, one := range slices.Concat(r.fleet.series, r.fleet.strays) {
		inOrder(s, one.DegreeDays)
	}
	return err
}

func (r *reading) plants(file Source) error {
	s := r.problems.New(file, []string{"series_id"}, "tankage_l", "peak_kw", "group")
	return s.Read(r.ctx, func(one *sheet.Row) {
		facts := Facts{
			Group:   strings.Clone(one.Text("group")),
			Tankage: (*units.Litres)(one.Positive("tankage_l")),
			PeakKW:  one.Positive("peak_kw"),
		}
		to := r.series(one, false)
		if to != nil && to.stated {
			one.Wrong("series_id", "%s has a row already: keep one", sheet.Quote(to.ID))
		}
		if !one.Bad {
			to.Facts, to.stated = facts, true
		}
	})
}

// inOrder sorts the rows of a series by time and names those that overlap: their days would count twice.
func inOrder[T interface{ span() Span }](s *sheet.Sheet, rows []T) {
	slices.SortStableFunc(rows, func(a, b T) int {
		return cmp.Or(cmp.Compare(a.span().Start, b.span().Start), cmp.Compare(a.span().line, b.span().line))
	})
	var last Span // the row that reaches farthest so far
	for i, row := range rows {
		now := row.span()
		if i > 0 && now.Start < last.End {
			overlap(s, now, last)
		}
		if i == 0 || now.End > last.End {
			last = now
		}
	}
}

// overlap names the row that stands later in the file.
func overlap(s *sheet.Sheet, a, b Span) {
	if a.line < b.line {
		a, b = b, a
	}
	s.Problem(a.line, "start", "%s to %s overlaps row %d of the same series, %s to %s: rows of a series share no day; keep one, or mend the dates",
		a.Start, a.End, b.line, b.Start, b.End)
}
