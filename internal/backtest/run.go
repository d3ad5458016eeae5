package backtest

import (
	"context"
	"maps"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/notice"
)

// Options are the choices of a run.
type Options struct {
	Paths int    // simulated futures of each series
	Seed  uint64 // the same seed and tables give the same answer, on any number of cores
}

// Result is what became of one series.
type Result struct {
	Series  *Series
	Rows    []Row // none where the history gives no model
	Faults  []forecast.Fault
	Notices notice.List
}

// chunk is how many series are forecast before their results are handed on: enough to keep cores busy to
// the end of each, few enough that no more than their quantiles are held.
const chunk = 64

// Run forecasts every series that has intervals and gives the results to take, one at a time: by origin, then
// in the order of the intervals' file.
func (f *Fleet) Run(ctx context.Context, o Options, take func(Result) error) error {
	cohorts := map[calendar.Day][]int{}
	for i, s := range f.series {
		if len(s.Intervals) > 0 {
			cohorts[s.Origin()] = append(cohorts[s.Origin()], i)
		}
	}
	for _, origin := range slices.Sorted(maps.Keys(cohorts)) {
		c, err := f.At(ctx, origin)
		if err != nil {
			return err
		}
		for part := range slices.Chunk(cohorts[origin], chunk) {
			results := make([]Result, len(part))
			if err := Spread(ctx, len(part), func(n int) { results[n] = f.forecast(c, part[n], o) }); err != nil {
				return err
			}
			for _, r := range results {
				if err := take(r); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// Asked counts the series that have intervals.
func (f *Fleet) Asked() (n int) {
	for _, s := range f.series {
		if len(s.Intervals) > 0 {
			n++
		}
	}
	return n
}

// Strays lists the series that only the files of degree days or plants name: their rows play no part, which a
// slip in a name would bring about.
func (f *Fleet) Strays() (notes notice.List) {
	for _, s := range f.strays {
		notes = append(notes, notice.New(notice.Info, CodeStray, s.ID, "it has no row of history and no interval: what the other files say of it was not used"))
	}
	return notes
}

// forecast makes the result of series number i.
func (f *Fleet) forecast(c *Cohort, i int, o Options) Result {
	s := f.series[i]
	r := Result{Series: s}
	m := c.model(i)
	r.Faults, r.Notices = m.Faults(), m.Notices()
	if n := len(s.Usage) - len(before(s.Usage, c.origin)); n > 0 {
		r.Notices.Add(notice.New(notice.Info, CodeAfterOrigin, s.ID, "%d rows of history end after the origin %s and were not used", n, c.origin))
	}
	if err := m.Err(); err != nil {
		r.Notices.Add(notice.New(notice.Serious, CodeNoForecast, s.ID, "%v", err))
		return r
	}
	r.Rows = rows(s, c.paths(m, s.horizon(), o))
	if !finite(r.Rows) {
		r.Rows = nil
		r.Notices.Add(notice.New(notice.Serious, CodeNoForecast, s.ID, "the forecast leaves all bounds: check the litres of its history"))
	}
	return r
}

// Spread does work for 0 to n-1 on all cores, until it is done or the context is.
func Spread(ctx context.Context, n int, work func(i int)) error {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	group.Wait()
	return context.Cause(ctx)
}
