package resupply

import (
	"math"
	"testing"
)

// paid is the plain plant with 500 a stop and 1 a litre.
func paid() *Problem {
	p := plain()
	for i := range p.Windows {
		p.Windows[i].Terms = Terms{Fixed: 500, Price: 1, Currency: "USD"}
	}
	return p
}

// Worked by hand on the plant of the plan by hand, whose only lot is 34,900 L. With 20,000 to spend, 500 of it for the
// stop, 19,500 L can be bought; with 20,000 L allotted, just these. Left of a limit that is used up is nothing. The level
// stays 38,500 L. Nothing need be flown before the barge, but 34,900 − 19,500 = 15,400 and 14,900 L after it, in loads of
// 1,000 L: 16 and 15 of them at 4 a litre. The limit is told on all paths.
func TestASpendingLimitHoldsOnEveryPath(t *testing.T) {
	money, litres, none := 20_000.0, 20_000.0, 0.0
	for _, c := range []struct {
		name       string
		limit      Spending
		lot, flown float64
	}{
		{"money", Spending{Name: "credit", UntilDay: 30, Money: &money, Currency: "USD"}, 19_500, 64_000},
		{"litres", Spending{Name: "allotment", UntilDay: 30, Litres: &litres}, 20_000, 60_000},
		{"used up", Spending{Name: "credit", UntilDay: 30, Money: &none, Currency: "USD"}, 0, 140_000},
		{"over before the order", Spending{Name: "credit", UntilDay: 29, Money: &none, Currency: "USD"}, 34_900, 0},
	} {
		p := paid()
		p.Windows[0].Closes = same(paths, 70) // too soon for a later delivery
		p.Spending = []Spending{c.limit}
		plan := p.Plan(1)
		r := plan.Replay(p, 1)
		if r.Fuel != c.lot || math.Abs(r.Flown-c.flown) > 1e-6 {
			t.Errorf("%s: fuel for %.0f and flown for %.0f, want %.0f and %.0f", c.name, r.Fuel, r.Flown, c.lot, c.flown)
		}
		if told := len(r.Bounded) == 1 && r.Bounded[0] == (Bounded{c.limit.Name, 1}); told != (c.lot == 19_500 || c.lot == 20_000) {
			t.Errorf("%s: told %+v", c.name, r.Bounded)
		}
		if len(plan.Lots) > 0 && (plan.Fallback != 0 || plan.Lots[0].UpTo != 38_500) {
			t.Errorf("%s: %.0f L before the barge, up to %.0f; want none and 38,500", c.name, plan.Fallback, plan.Lots[0].UpTo)
		}
		for _, o := range plan.Options(p, 1) {
			if o.Kind == FillUp && o.Fallback*4 < c.flown-1e-6 {
				t.Errorf("%s: filling up goes over the limit: only %.0f L flown", c.name, o.Fallback)
			}
		}
	}
}

// Two barges 20 days apart share one limit: what the first takes the second has not.
func TestTwoDeliveriesShareALimit(t *testing.T) {
	litres := 20_000.0
	p := paid()
	for i := range p.Windows {
		p.Windows[i].Terms.Deliveries, p.Windows[i].Terms.Apart, p.Windows[i].Lot.Max = 2, 20, 15_000
	}
	p.Spending = []Spending{{Name: "allotment", UntilDay: 200, Litres: &litres}}
	plan := p.Plan(1)
	f := p.futuresOf(plan.all, 1)
	for s, o := range f.outcomes(plan.course) {
		sum := 0.0
		for _, lot := range o.Lots {
			sum += lot
		}
		if sum > litres || sum < litres-1 {
			t.Fatalf("path %d: lots %v, want 20,000 L together", s, o.Lots)
		}
	}
}
