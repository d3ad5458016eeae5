package resupply

import (
	"overwinter/internal/calendar"
	"overwinter/internal/lots"
)

// Plan is the cheapest way to supply a plant until the delivery that ends it: which deliveries to order, by
// when, and up to which level each fills the tanks.
type Plan struct {
	Lots  []PlannedLot
	Until PlannedEnd
	// Fallback is what must come by a fallback before the first delivery at the risk target, in litres, for
	// want of one that comes in time; without any delivery, before the one that ends the plan.
	Fallback float64
	// Lack is how many litres of the reserve the tanks have no room for; 0 where it can be kept.
	Lack float64
	Cost lots.Cost // by the medians and the target alone; Replay has what to expect

	course *course
	all    []*occasion
	seed   uint64
	f      *futures
}

// PlannedLot is one delivery of a plan.
type PlannedLot struct {
	Window    *Window
	Delivery  int          // of the window, from 1
	Late      bool         // as late in the window as it surely can come, instead of as early
	OrderBy   calendar.Day // later it comes later, at the risk target
	Arrives   Dates
	UpTo      float64 // usable litres in the tanks once it has come: what decides the lot on the day
	CallBelow float64 // with as much in the tanks or more it is not called for
	Litres    Litres  // the lot, over the paths on which the delivery comes
	Called    float64 // share of them on which it is called for at all
	Price     float64 // a litre, freight included, expected
	FailShare float64 // chance that it does not come
	// Alone tells that it fails more often than the risk target: no lot from it alone holds the target.
	Alone bool
	Held  []lots.HoldKind // what keeps the lot from being another, by the medians
	Why   Because         // of the level
}

// Litres is a volume as its 10, 50 and 90 % points.
type Litres struct{ P10, P50, P90 float64 }

// PlannedEnd is the delivery to which the last lot carries. Nothing is planned from it.
type PlannedEnd struct {
	Window   *Window
	Delivery int
	Arrives  Dates
}

// Plan finds the plan of least expected cost. The seed is that of the prices. Nil where fewer than two
// deliveries are in sight: a lot has nowhere to carry to.
func (p *Problem) Plan(seed uint64) *Plan {
	return p.planOf(seed, func(int) bool { return true })
}

func (p *Problem) planOf(seed uint64, allowed func(int) bool) *Plan {
	all := p.occasions()
	if len(all) < 2 {
		return nil
	}
	f := p.futures(all, seed)
	return f.planOf(f.best(allowed), seed)
}

func (f *futures) planOf(c *course, seed uint64) *Plan {
	if c == nil {
		return nil
	}
	called := f.measure(c)
	end := f.all[f.last()]
	plan := &Plan{
		Until:    PlannedEnd{end.window, end.nth + 1, f.p.dates(end.arrival)},
		Fallback: max(0, float64(f.need(c, -1))), Lack: c.lack, Cost: c.plan.Cost,
		course: c, all: f.all, seed: seed, f: f,
	}
	for k, u := range c.used {
		o := f.all[u]
		lot := PlannedLot{
			Window: o.window, Delivery: o.nth + 1, Late: o.late, OrderBy: f.p.AsOf + calendar.Day(o.ordered), Arrives: f.p.dates(o.arrival),
			UpTo: c.upTo[k], CallBelow: c.call[k], Litres: c.litres[k], Called: called[k], Price: f.price[u], FailShare: o.failing(), Why: f.because(c, k),
		}
		lot.Alone = lot.FailShare > f.p.Risk
		for _, h := range c.plan.Held[k+1] {
			lot.Held = append(lot.Held, h.Kind)
		}
		plan.Lots = append(plan.Lots, lot)
	}
	return plan
}

// measure reads a course's lots off the paths, and the share of them on which each is called for.
func (f *futures) measure(c *course) (called []float64) {
	outcomes := f.outcomes(c)
	for k, u := range c.used {
		var litres []float64
		share := 0.0
		for s := range outcomes {
			if f.all[u].arrival[s] != Never {
				litres = append(litres, outcomes[s].Lots[k])
				share += count(outcomes[s].Lots[k] > 0)
			}
		}
		n := len(litres)
		c.litres = append(c.litres, Litres{pick(litres, rank(n, 0.1)), pick(litres, rank(n, 0.5)), pick(litres, rank(n, 0.9))})
		called = append(called, share/float64(n))
	}
	return called
}
