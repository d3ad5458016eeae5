package replay

import (
	"overwinter/internal/backtest"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/resupply"
)

// foresight is the forecast of a plant's use at a decision, the same for all policies and worlds. It is made when it is first asked for:
// at most decisions nothing falls due.
type foresight struct {
	c      *Case
	p      *Plant
	cohort *backtest.Cohort
	asOf   calendar.Day
	paths  int

	made   bool
	drawn  resupply.Outflow
	middle single
	err    error
}

// burn gives the paths; none where there is no forecast.
func (f *foresight) burn() resupply.Outflow {
	if f.made {
		return f.drawn
	}
	f.made = true
	m := f.cohort.Later(f.c.fleet, f.p.series, f.asOf+1)
	if err := m.Err(); err != nil {
		f.err = fault.Wrap(fault.Invalid, err, "plant %s cannot be forecast on %s: replay from a later day, or leave it out", f.p.ID, f.asOf+1)
	}
	f.drawn = m.Simulate(f.asOf, f.days(), f.paths, f.c.Scenario.Seed)
	return f.drawn
}

// days is how far a plan and its reserve look ahead.
func (f *foresight) days() int {
	return planHorizon + max(f.c.Scenario.ReserveDays, f.c.Scenario.Fallback.AtDays)
}

// median gives the medians of the cumulative use as one path.
func (f *foresight) median() single {
	if f.middle == nil {
		f.middle = medianOf(f.burn(), f.days())
	}
	return f.middle
}

// single is one path of cumulative use.
type single []float64

func (s single) Count() int { return 1 }

func (s single) Cumulative(_, day int) float64 { return s[day] }

// medianOf takes the median at the end of each week; between them the use is even.
func medianOf(paths resupply.Outflow, days int) single {
	const week = 7
	middle, values := make(single, days+1), make([]float64, paths.Count())
	for before := 0; before < days; before += week {
		now := min(before+week, days)
		for p := range values {
			values[p] = paths.Cumulative(p, now)
		}
		middle[now] = forecast.Quantile(values, 0.5)
		for day := before + 1; day < now; day++ {
			middle[day] = middle[before] + (middle[now]-middle[before])*float64(day-before)/float64(now-before)
		}
	}
	return middle
}
