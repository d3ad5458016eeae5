package backtest

import (
	"math"

	"overwinter/internal/forecast"
)

// levels are the probabilities of the quantiles: 0.025, 0.05 to 0.95 by 0.05, and 0.975.
var levels = func() (all []float64) {
	all = append(all, 0.025)
	for i := 1; i < 20; i++ {
		all = append(all, float64(i)/20)
	}
	return append(all, 0.975)
}()

// Row is the forecast of one interval, in litres on the basis of the history.
type Row struct {
	Interval
	Number   int       // counts all intervals of the series from 1
	Own      []float64 // quantiles of the interval's own total, at each of levels
	Sum      []float64 // the same of the total of all counted intervals so far
	Point    float64   // median of the own total
	SumPoint float64   // median of the cumulative total
}

// futures are simulated paths: the litres burned on each by the end of a day, counted from the origin.
type futures interface {
	Count() int
	Cumulative(path, day int) float64
}

// rows gives the quantiles of all intervals of a series. The cumulative total is added path by path: its
// quantiles are not sums of quantiles.
func rows(s *Series, paths futures) []Row {
	out := make([]Row, len(s.Intervals))
	own, sum := make([]float64, paths.Count()), make([]float64, paths.Count())
	origin := s.Origin()
	for i, interval := range s.Intervals {
		from, to := int(interval.Start-origin), int(interval.End-origin)
		for p := range own {
			own[p] = paths.Cumulative(p, to) - paths.Cumulative(p, from)
			if interval.Counted {
				sum[p] += own[p]
			}
		}
		out[i] = Row{Interval: interval, Number: i + 1, Own: forecast.Quantiles(own, levels...), Sum: forecast.Quantiles(sum, levels...)}
		out[i].Point, out[i].SumPoint = out[i].Own[len(levels)/2], out[i].Sum[len(levels)/2]
	}
	return out
}

// finite tells whether a forecast can be written: a model of absurd readings may leave all bounds.
func finite(rows []Row) bool {
	for _, r := range rows {
		for i := range levels {
			if total := r.Own[i] + r.Sum[i]; math.IsNaN(total) || math.IsInf(total, 0) {
				return false
			}
		}
	}
	return true
}
