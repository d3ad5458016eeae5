package forecast

import "math"

const (
	weekLeast = 60   // intervals of a day from which a week is found
	weekSD    = 0.05 // prior standard deviation of a weekday's effect on the log rate: common practice, no source
)

// week is how the log rate of each weekday, Sunday first, differs from the mean of the week. Only readings of days tell it.
type week [7]float64

// weekdayOf gives 0 for a Sunday: day 0, 1 January 1970, was a Thursday.
func weekdayOf(day int) int { return ((day+4)%7 + 7) % 7 }

func (w *week) times(day int) float64 {
	if *w == (week{}) {
		return 1
	}
	return math.Exp(w[weekdayOf(day)])
}

// factors gives what times gives for each weekday.
func (w *week) factors() (all week) {
	for day, x := range w {
		all[day] = math.Exp(x)
	}
	return all
}

// findWeek takes one step of the estimate of the week from the residuals of days: their weighted mean by weekday, drawn to
// zero as far as its variance is not small beside weekSD². The level and the season do not see a profile that sums to
// zero over the week, so that steps of this kind between those of the fit lead to where all are estimated at once.
func (f *fit) findWeek() {
	var sums, weights week
	count := 0
	for i := range f.rows {
		if !f.oneDay(i) {
			continue
		}
		r, o := &f.rows[i], &f.observations[i]
		day := weekdayOf(int(math.Floor((o.Start + o.End) / 2)))
		sums[day] += r.weight * (r.residual + f.known.week[day])
		weights[day] += r.weight
		count++
	}
	if count < weekLeast || f.erratic {
		return
	}
	var found week
	mean := 0.0
	for day := range found {
		found[day] = sums[day] / (weights[day] + f.noise.sd*f.noise.sd/(weekSD*weekSD))
		mean += found[day] / 7
	}
	for day := range found {
		found[day] -= mean
	}
	f.known.week = found
	f.layOutKnown()
}
