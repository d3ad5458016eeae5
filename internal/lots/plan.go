package lots

import (
	"math"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// Best finds the cheapest plan of a plant without flaws. Where there is none, the error is an *Infeasible.
func (p *Plant) Best() (*Plan, error) { return p.within(mostNodes) }

// within finds the best plan that a search of so many nodes finds.
func (p *Plant) within(nodes int) (*Plan, error) {
	l := lineOf(p)
	s := l.run(nodes)
	if math.IsInf(s.best, 1) {
		if why := p.infeasible(); why != nil {
			return nil, why
		}
		return nil, fault.New(fault.Invalid, "no plan in whole steps was found in %d trials: give smaller steps or loads, or more room", nodes)
	}
	plan := &Plan{Lots: make([]units.LitresAt15, l.n), Fallback: make([]units.LitresAt15, l.n)}
	for w := range l.n {
		plan.Lots[w] = units.LitresAt15(l.clean(s.plan.lot[w], l.step[w]))
		plan.Fallback[w] = units.LitresAt15(l.clean(s.plan.fallback[w], l.load[w]))
	}
	plan.Cost = p.CostOf(plan.Lots, plan.Fallback)
	plan.Bound = plan.Cost.Total
	plan.Proved = s.proved()
	if !plan.Proved {
		plan.Bound = min(plan.Bound, Money(s.bound+l.constant))
	}
	plan.Held = p.held(l, plan)
	return plan, nil
}

// clean takes rounding off an amount.
func (l *line) clean(x, step float64) float64 {
	if x <= l.tiny {
		return 0
	}
	if step > 0 {
		return math.Round(x/step) * step
	}
	return x
}
