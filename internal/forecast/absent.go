package forecast

import (
	"math"

	"overwinter/internal/units"
)

const (
	leastPeriods = 1.5 // times the usual that an interval must hold, to hold the fuel of an absent neighbour, too
	mostPeriods  = 3.5 // and at most, and times its own length that both are
	periodBeyond = 3.0 // standard deviations by which it must be too much
)

// withAbsent looks for an absent neighbour before an observation, or after it, or both, whose fuel it holds: two months in one beside a
// blank. What was reported late is looked for first.
func (f *fit) withAbsent(i int) (o observation, ok bool) {
	own, r := &f.observations[i], &f.rows[i]
	ratio := float64(own.Litres) / r.expected
	if own.reckoned() || ratio < leastPeriods || ratio > mostPeriods || r.residual < periodBeyond*math.Sqrt(r.own()+r.parameter) {
		return o, false
	}
	start, end := own.Start, own.End
	if i > 0 {
		start = min(start, f.observations[i-1].End)
	}
	if i+1 < len(f.observations) {
		end = max(end, f.observations[i+1].Start)
	}
	for _, span := range [][2]float64{{start, own.End}, {own.Start, end}, {start, end}} {
		o := observation{Interval: Interval{Start: span[0], End: span[1], Litres: own.Litres, Sigma: own.Sigma}}
		if o.Days()-own.Days() <= sameMoment || o.Days() > mostPeriods*own.Days() {
			continue
		}
		long := row{total: f.noise.total(o.Days()), logRate: o.logRate()}
		f.expect(&o, &long)
		if math.Abs(long.residual) <= min(sumWithin*math.Sqrt(long.own()+r.parameter), sumShare*math.Log(ratio)) {
			o.madeOf([]Fault{{Interval: own.Interval, Expected: units.LitresAt15(r.expected)}}, "together")
			return o, true
		}
	}
	return o, false
}
