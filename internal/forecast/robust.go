package forecast

import (
	"fmt"
	"math"
	"slices"

	"overwinter/internal/units"
)

const (
	namedBeyond  = 5.0  // predictive standard deviations
	namedRatio   = 1.25 // and by at least this factor: less is left to Huber's weights
	startWindow  = 200  // days either way, of which the first guess of the level is the median
	startRows    = 5
	madToSD      = 1.4826
	leastStartSD = 0.1
)

// start puts the level at running medians of the log rate, which a fifth of bad intervals cannot move
// far, and names what lies far from them.
func (f *fit) start() {
	all := make([]dated, 0, len(f.observations))
	for i := range f.observations {
		if o := &f.observations[i]; o.Litres > 0 {
			r, middle := &f.rows[i], (o.Start+o.End)/2
			row := r.bySeason
			if !r.fixed {
				at := harmonicsAt(middle)
				row = &at
			}
			all = append(all, dated{r.logRate - f.prior.mean.along(row, nHarmonic), middle})
		} else {
			o.named = o.Sigma == 0 // its logarithm would be no number
		}
	}
	slices.SortFunc(all, func(a, b dated) int {
		switch {
		case a.log < b.log: // finite, which spares cmp.Compare's care for what is no number
			return -1
		case a.log > b.log:
			return 1
		}
		return 0
	})
	f.level = f.runningMedians(all)
	f.linearise()
	sizes := make([]float64, 0, len(f.rows))
	for i := range f.rows {
		if r := &f.rows[i]; !r.coarse {
			sizes = append(sizes, math.Abs(r.residual))
		}
	}
	sd := max(madToSD*middleOf(sizes), leastStartSD)
	for i := range f.rows {
		f.judge(i, sd*sd+f.rows[i].measuring)
	}
	f.weigh()
}

// dated is the log of a rate without its season, and when it was.
type dated struct{ log, at float64 }

// runningMedians gives at each knot the median of the rates near it, which are sorted, and that of all where few are near.
func (f *fit) runningMedians(sorted []dated) []float64 {
	everywhere := newPlaces(len(sorted))
	near := make([]places, f.knots.count)
	for knot := range near {
		near[knot] = newPlaces(len(sorted))
	}
	for i, d := range sorted {
		everywhere.add(i)
		for knot := max(int((d.at-startWindow-f.knots.first)/f.knots.step), 0); knot < f.knots.count; knot++ {
			off := f.knots.first + float64(knot)*f.knots.step - d.at
			if off > startWindow {
				break
			}
			if off >= -startWindow {
				near[knot].add(i)
			}
		}
	}
	medianOf := func(p places) float64 {
		n := p.count()
		return (sorted[p.nth((n-1)/2)].log + sorted[p.nth(n/2)].log) / 2
	}
	f.startLevel = medianOf(everywhere)
	medians := make([]float64, f.knots.count)
	for knot, p := range near {
		if medians[knot] = f.startLevel; p.count() >= startRows {
			medians[knot] = medianOf(p)
		}
	}
	return medians
}

// judge names an interval, or clears it, by its predictive variance.
func (f *fit) judge(i int, variance float64) {
	o, r := &f.observations[i], &f.rows[i]
	ratio := float64(o.Litres) / r.expected
	if ratio <= 0 && r.measuring <= coarseRatio*coarseRatio {
		o.named, o.outlying = true, false // nothing or less, measured well
		return
	}
	o.outlying = r.residual*r.residual > namedBeyond*namedBeyond*variance && (ratio > namedRatio || ratio < 1/namedRatio)
	o.named = o.outlying && !(o.vouched && !isDigitSlip(ratio))
}

// isDigitSlip says whether a ratio is that of a digit too many or too few. Who writes one slip may write it twice, in the fuel and
// in the energy: then they vouch for nothing.
func isDigitSlip(ratio float64) bool {
	digits := math.Log10(ratio)
	return math.Abs(digits) > 0.5 && math.Abs(digits-math.Round(digits))*math.Ln10 < slipTolerance
}

// weigh sets Huber's weights: P. J. Huber, "Robust estimation of a location parameter", Annals of
// Mathematical Statistics 35 (1964). An erratic use has none: its large totals are part of its mean.
func (f *fit) weigh() {
	for i := range f.rows {
		r := &f.rows[i]
		r.weight = 1
		if squared := r.residual * r.residual / r.own(); !f.erratic && squared > huberBound*huberBound {
			r.weight = huberBound / math.Sqrt(squared)
		}
	}
}

// judgeAll names faulty intervals by the current fit, then takes back what is a yearly event and what is a step of
// load. It reports whether any verdict changed.
func (f *fit) judgeAll() (changed bool) {
	before := make([]bool, len(f.rows))
	for i := range f.rows {
		before[i] = f.observations[i].named
		f.judge(i, f.rows[i].own()+f.rows[i].parameter)
	}
	if !f.erratic {
		f.admitEvent()
		f.admitSteps()
	}
	for i := range f.rows {
		changed = changed || before[i] != f.observations[i].named
	}
	return changed
}

// slips are the ratios of reading to expectation that have a likely cause.
var slips = []struct {
	ratio  float64
	reason string
}{
	{1000, "about a thousand times the usual: litres taken for cubic metres?"},
	{100, "about a hundred times the usual: two digits too many?"},
	{10, "about ten times the usual: a digit too many?"},
	{units.LitresPerUSGallon, "about 3.8 times the usual: litres taken for US gallons?"},
	{2, "about twice the usual: two periods in one?"},
	{1 / units.LitresPerUSGallon, "about 3.8 times less than usual: US gallons taken for litres?"},
	{0.1, "about a tenth of the usual: a digit missing?"},
	{0.01, "about a hundredth of the usual: two digits missing?"},
	{0.001, "about a thousandth of the usual: cubic metres taken for litres?"},
}

// slipTolerance is how far, in logs, a ratio may be from that of its cause.
const slipTolerance = 0.22

// slipOf gives the likely cause of a ratio of reading to expectation, "" where none is known.
func slipOf(ratio float64) (reason string) {
	nearest := slipTolerance
	for _, s := range slips {
		if off := math.Abs(math.Log(ratio / s.ratio)); off < nearest {
			nearest, reason = off, s.reason
		}
	}
	return reason
}

// faultOf describes a named interval for people.
func faultOf(i Interval, expected float64) Fault {
	f := Fault{Interval: i, Expected: units.LitresAt15(expected)}
	ratio := float64(i.Litres) / expected
	switch {
	case i.Litres == 0:
		f.Reason = "nothing burned: probably not reported"
	case i.Litres < 0:
		f.Reason = "less than nothing burned: a count correction booked as usage?"
	case slipOf(ratio) != "":
		f.Reason = slipOf(ratio)
	case ratio > 1:
		f.Reason = "much more than usual: a count correction?"
	default:
		f.Reason = "much less than usual: a count correction, or a part not reported?"
	}
	return f
}

// fault describes litres that contradict their energy.
func (a *account) fault() Fault {
	f := faultOf(a.Interval, a.byEnergy())
	ratio := float64(a.Litres) / a.byEnergy()
	switch {
	case a.Litres == 0:
		f.Reason = "nothing burned, though energy was generated: not reported."
	case a.Litres < 0, slipOf(ratio) != "":
	case ratio > 1:
		f.Reason = "more than its energy takes: a count correction?"
	default:
		f.Reason = "less than its energy takes: a count correction, or a part not reported?"
	}
	f.Reason += fmt.Sprintf(" Its %.0f kWh take %.0f L", a.kWh, a.byEnergy())
	return f
}
