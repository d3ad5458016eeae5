package forecast

import "math"

const (
	lastYearShare = 0.5 // weight of last year's mean level beside the level that the model finds for now
	yearCovered   = 300 // days of the last year that must be measured
)

// lastYear gives by how much the mean log level of the last year, what passed in it included, lies above the one
// that the posteriors expect of the year to come. It is 0 where less than yearCovered of the last year was measured.
//
// Adding part of it to the level is a combination of two forecasts, the local level and last year's
// total, which errs less than either where neither is the truth: the oldest finding of forecasting
// (J. M. Bates, C. W. J. Granger, "The combination of forecasts", Operational Research Quarterly 20, 1969).
func (f *fit) lastYear(found []posterior) float64 {
	level, passing := 0.0, 0.0
	for i := range found {
		level += found[i].weight * found[i].mean[0]
		passing += found[i].weight * found[i].mean[1]
	}
	from := f.lastYearBegins()
	days, sum := 0.0, 0.0
	for i := range f.rows {
		o, r := &f.observations[i], &f.rows[i]
		if o.named || r.coarse || o.Start < from {
			continue
		}
		fitted := 0.0
		for j, x := range r.byKnot {
			fitted += x * f.level[r.firstKnot+j]
		}
		days += o.Days()
		sum += o.Days() * (fitted + r.residual - r.booked - level)
	}
	if days < yearCovered {
		return 0
	}
	// of a passing deviation that the mean of the next year has
	share := passingDays / daysPerYear * (1 - math.Exp(-daysPerYear/passingDays))
	return sum/days - share*passing
}

// lastYearBegins gives a year before the origin, or the last step after it: the time before a step was another.
func (f *fit) lastYearBegins() float64 {
	origin := f.knots.first + float64(f.knots.count-1)*f.knots.step
	from := origin - daysPerYear - 1
	for gap, jump := range f.jumps {
		switch {
		case f.declared[gap]:
			from = max(from, f.knots.steps[gap])
		case jump > 0:
			from = max(from, f.knots.first+float64(gap+1)*f.knots.step)
		}
	}
	return from
}
