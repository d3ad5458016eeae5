package resupply

import (
	"math"
	"slices"
)

// PlanReplayed is how a plan fares on paths that it has not seen.
type PlanReplayed struct {
	Paths int
	// Below is the share of paths on which the stock is below the reserve at any time before a fallback
	// brings fuel: the joint risk of the whole plan. BelowIn has it by stretch, over the paths on which the delivery that
	// begins it and the one that ends it both come: before the first lot, then after each. Where the plan leans against a
	// failing, the risk of the scenario is beside it.
	Below   float64
	BelowIn []float64
	Dry     float64 // share of paths on which a plant without a fallback runs dry
	Missing float64 // litres that it lacks, mean
	// Fallback is what comes by it, in litres: the mean, and what is not exceeded on 90 % of paths.
	Fallback, FallbackP90 float64
	Cost                  Spread
	Fixed, Fuel, Flown    float64 // means
	Carrying, Left        float64
	Failing               []Failing
	Bounded               []Bounded
}

// Spread is an amount of money over paths.
type Spread struct {
	Mean, Error   float64 // the mean's standard error
	P10, P50, P90 float64
}

// Failing is how the plan fares on the paths on which one of its windows does not open.
type Failing struct {
	Window   *Window
	Paths    int
	Below    float64 // share, before a fallback; 0 where there are no such paths
	Fallback float64
}

// Replay carries the plan out on the paths of a fresh problem: the same plant and windows, other draws.
func (pl *Plan) Replay(fresh *Problem, seed uint64) PlanReplayed {
	f := fresh.futuresOf(pl.all, seed)
	return f.replay(pl.course)
}

// futuresOf cuts the paths of a fresh problem at the deliveries of a plan.
func (p *Problem) futuresOf(planned []*occasion, seed uint64) *futures {
	all := make([]*occasion, len(planned))
	for i, o := range planned {
		own := *o
		own.on(p)
		all[i] = &own
	}
	return p.futures(all, seed)
}

func (f *futures) replay(c *course) PlanReplayed {
	n := len(f.legs)
	r := PlanReplayed{Paths: n, BelowIn: make([]float64, len(c.used)+1)}
	outcomes := f.outcomes(c)
	r.average(outcomes)
	r.Cost = spreadOf(perPath(n, func(s int) float64 { return outcomes[s].total() }))
	flown := perPath(n, func(s int) float64 { return outcomes[s].Fallback })
	r.FallbackP90 = pick(flown, rank(n, 0.9))
	for k := range r.BelowIn {
		r.BelowIn[k] = f.belowIn(c, k-1, outcomes)
	}
	r.Bounded = bounded(c, outcomes)
	for _, u := range c.used {
		if w := f.all[u].window; f.all[u].nth == 0 && w.LossChance > 0 {
			r.Failing = append(r.Failing, f.failing(w, outcomes))
		}
	}
	return r
}

func (r *PlanReplayed) average(outcomes []outcome) {
	of := func(value func(o *outcome) float64) float64 {
		return mean(perPath(len(outcomes), func(s int) float64 { return value(&outcomes[s]) }))
	}
	r.Below = of(func(o *outcome) float64 { return count(o.Below) })
	r.Dry = of(func(o *outcome) float64 { return count(o.Dry) })
	r.Missing = of(func(o *outcome) float64 { return o.Missing })
	r.Fallback = of(func(o *outcome) float64 { return o.Fallback })
	r.Fixed = of(func(o *outcome) float64 { return o.Fixed })
	r.Fuel = of(func(o *outcome) float64 { return o.Fuel })
	r.Flown = of(func(o *outcome) float64 { return o.Flown })
	r.Carrying = of(func(o *outcome) float64 { return o.Carrying })
	r.Left = of(func(o *outcome) float64 { return o.Left })
}

func count(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// belowIn is the share of paths on which the reserve is lost in the stretch of the k-th used, −1 for that
// before the first, over those on which both its ends come.
func (f *futures) belowIn(c *course, k int, outcomes []outcome) float64 {
	below, all := 0, 0
	for s := range outcomes {
		if (k >= 0 && f.all[c.used[k]].arrival[s] == Never) || f.all[f.next(c, k)].arrival[s] == Never {
			continue
		}
		all++
		if outcomes[s].BelowIn[k+1] {
			below++
		}
	}
	return float64(below) / float64(max(all, 1))
}

func (f *futures) failing(w *Window, outcomes []outcome) Failing {
	r := Failing{Window: w}
	for s := range outcomes {
		if w.Opens[s] == Never {
			r.Paths++
			r.Below += count(outcomes[s].Below)
			r.Fallback += outcomes[s].Fallback
		}
	}
	if r.Paths > 0 {
		r.Below /= float64(r.Paths)
		r.Fallback /= float64(r.Paths)
	}
	return r
}

func spreadOf(values []float64) Spread {
	n := float64(len(values))
	m, squares := mean(values), 0.0
	for _, v := range values {
		squares += (v - m) * (v - m)
	}
	sorted := slices.Sorted(slices.Values(values))
	at := func(p float64) float64 { return sorted[rank(len(sorted), p)] }
	return Spread{Mean: m, Error: math.Sqrt(squares / (n - 1) / n), P10: at(0.1), P50: at(0.5), P90: at(0.9)}
}
