package resupply

import (
	"math"
	"slices"
)

// How much is changed at a time; conventions, no source.
const (
	roomStep    = 1000.0 // litres
	riskPoint   = 1.0
	burnPercent = -5.0
	earlierDays = -7
)

// changed lists the problems with one thing changed. What cannot be changed is left out: a risk of nothing, or
// one that the paths cannot certify; room where no capacity is stated; the opening where there is no order, or
// its window is open all year.
func (p *Problem) changed(d Decision) []changed {
	all := []changed{p.lead(-1), p.lead(+1), p.lessReserve(), p.lessBurn()}
	if len(p.Capacity) > 0 {
		all = append(all, p.moreRoom())
	}
	for _, points := range []float64{-riskPoint, riskPoint} {
		if risk := p.Risk + points/100; risk > 0 && risk < 1 && Allowed(p.Burn.Count(), risk) >= 0 {
			all = append(all, changed{ChangedRisk, points, p.but(func(q *Problem) { q.Risk = risk })})
		}
	}
	if d.Order != nil && !d.Order.Window.AllYear {
		all = append(all, p.earlier(d.Order.index))
	}
	return all
}

// but gives a problem with something changed, which shares nothing with it that deciding writes.
func (p *Problem) but(change func(q *Problem)) Problem {
	q := *p
	q.Windows, q.Capacity, q.Receipts = slices.Clone(p.Windows), slices.Clone(p.Capacity), slices.Clone(p.Receipts)
	change(&q)
	return q
}

// lead makes every lead time longer by some days, none shorter than nothing.
func (p *Problem) lead(days int) changed {
	return changed{ChangedLead, float64(days), p.but(func(q *Problem) {
		for i := range q.Windows {
			was := q.Windows[i].Lead
			q.Windows[i].Lead = perPath(len(was), func(s int) int { return max(0, was[s]+days) })
		}
	})}
}

// earlier opens a window a week earlier.
func (p *Problem) earlier(index int) changed {
	return changed{ChangedOpening, earlierDays, p.but(func(q *Problem) {
		w := &q.Windows[index]
		was := w.Opens
		w.Opening += earlierDays
		w.Opens = perPath(len(was), func(s int) int {
			if was[s] == Never {
				return Never
			}
			return was[s] + earlierDays
		})
	})}
}

func (p *Problem) moreRoom() changed {
	return changed{ChangedRoom, roomStep, p.but(func(q *Problem) {
		for i := range q.Capacity {
			q.Capacity[i].Litres += roomStep
		}
	})}
}

// lessReserve takes a day off the reserve, or the litres of one.
func (p *Problem) lessReserve() changed {
	if p.Reserve.Days > 0 {
		return changed{ChangedReserve, -1, p.but(func(q *Problem) { q.Reserve.Days-- })}
	}
	less := math.Min(p.meanDay(), p.Reserve.Litres)
	return changed{ChangedReserveL, -less, p.but(func(q *Problem) { q.Reserve.Litres -= less })}
}

func (p *Problem) lessBurn() changed {
	return changed{ChangedBurn, burnPercent, p.but(func(q *Problem) { q.Burn = scaled{p.Burn, 1 + burnPercent/100} })}
}

// scaled is an outflow in other proportions.
type scaled struct {
	Outflow
	times float64
}

func (s scaled) Cumulative(path, day int) float64 { return s.times * s.Outflow.Cumulative(path, day) }
