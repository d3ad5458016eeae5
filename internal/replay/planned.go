package replay

import (
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// planned orders and fills as the plan says. A plan is made only at a decision that it can change: when an order falls due or a
// visit arrives before the next.
type planned struct {
	title string
	risk  float64
	sure  bool // plans for the medians of all that is uncertain, as if they were sure

	at   calendar.Day // as-of day of the plan
	lots map[visit]plannedCall
}

// plannedCall is a lot of the plan with the call that would bring it.
type plannedCall struct {
	call
	resupply.PlannedLot
}

func (p *planned) name() string { return p.title }

func (p *planned) orders(v *view) []call {
	if v.each() == nil {
		return nil
	}
	var all []call
	for _, o := range v.outlooks {
		for nth := len(v.ordered(o.year)); nth < v.s.Window.Deliveries; nth++ {
			if lot, wanted := p.plan(v)[visit{o.year, nth}]; wanted && lot.OrderBy < v.next {
				all = append(all, lot.call)
			}
		}
	}
	return all
}

func (p *planned) level(v *view, of visit, _ calendar.Day) float64 {
	return p.plan(v)[of].UpTo // 0 where the plan does without
}

// plan gives the lots of the plan by visit.
func (p *planned) plan(v *view) map[visit]plannedCall {
	if p.lots != nil && p.at == v.asOf {
		return p.lots
	}
	p.at, p.lots = v.asOf, map[visit]plannedCall{}
	if v.ahead.burn().Count() == 0 {
		return p.lots
	}
	problem, rests := p.problem(v)
	plan := problem.Plan(v.s.Seed)
	if plan == nil {
		return p.lots
	}
	for i, rest := range rests {
		fresh := rest.arrived + rest.waiting // the number of the next order
		for _, lot := range plan.Lots {
			if lot.Window != &problem.Windows[i] {
				continue
			}
			nth, after := rest.arrived+lot.Delivery-1, rest.after
			if lot.Late || lot.Delivery > rest.waiting {
				nth, fresh = fresh, fresh+1
			}
			if !lot.Late { // a late one is kept back by its order
				after += (lot.Delivery - 1) * v.s.Window.Apart
			}
			of := visit{rest.year, nth}
			p.lots[of] = plannedCall{call{of, after}, lot}
		}
	}
	return p.lots
}
