package resupply

import (
	"math"
	"testing"
)

// Worked by hand: a lot of at most 30,000 L leaves 34,900 − 30,000 = 4,900 L for the time after the barge; before it the stock of day 65 is 3,600 L, above the reserve of 2,000 L. With 3,000 L in stock the reserve is
// lost on day 11; until the close of day 64 go 6,400 L, so that 5,400 L must come before.
func TestWhatMustComeBeforeTheFirstDeliveryIsNoMoreThanThat(t *testing.T) {
	p := paid()
	p.Windows[0].Lot.Max, p.Windows[0].Closes = 30_000, same(paths, 70)
	if plan := p.Plan(1); len(plan.Lots) != 1 || plan.Fallback != 0 {
		t.Errorf("%.0f L before the first of %d lots, want none before the one", plan.Fallback, len(plan.Lots))
	}
	p.Stock = same(paths, 3000.0)
	if plan := p.Plan(1); len(plan.Lots) != 1 || plan.Fallback != 5400 {
		t.Errorf("%.0f L before the first of %d lots, want 5,400", plan.Fallback, len(plan.Lots))
	}
}

// Worked by hand: 10,000 L come by an order within the stretch, so
// that 36,500 − 10,000 + 2,000 = 28,500 L are asked for, and no more is carried without interest and at one price.
func TestALevelIsNotRaisedForNothing(t *testing.T) {
	p := paid()
	p.Receipts = []Receipt{{Order: "A", Litres: 10_000, Day: perPath(paths, func(s int) int { return 90 + s%20 })}}
	if l := p.Plan(1).Lots[0]; l.UpTo != 28_500 || l.Why.Raised != 0 {
		t.Errorf("up to %.3f, raised by %.3f; want 28,500 and nothing", l.UpTo, l.Why.Raised)
	}
}

// A delivery of which no use is made, however dear, changes nothing of what the fuel in the tanks costs to hold.
func TestFuelIsHeldAtThePriceOfTheDeliveryThatBroughtIt(t *testing.T) {
	p := paid()
	p.Carrying = 0.1
	cost := func() float64 {
		f := p.futures(p.occasions(), 1)
		for i, o := range f.all {
			if o.median == 65 {
				c := &course{used: []int{i}, upTo: []float64{38_500}, call: []float64{38_500}}
				return f.replay(c).Carrying
			}
		}
		return math.NaN()
	}
	was := cost()
	dear := window(200, 260)
	dear.Route, dear.Terms = "air", Terms{Price: 9, Currency: "USD"}
	p.Windows = append(p.Windows[:1:1], dear, p.Windows[1])
	if now := cost(); math.Abs(now-was) > 1e-6 {
		t.Errorf("held at %.2f beside a dear delivery that is not used, at %.2f without it", now, was)
	}
}

// Six deliveries each of two routes are more than a plan weighs: it weighs the nine earliest and carries to
// the next window that opens.
func TestAPlanOfManyDeliveriesCarriesToTheNextWindow(t *testing.T) {
	p := paid()
	other := p.Windows[0]
	other.Route = "boat"
	p.Windows = append(p.Windows[:1:1], other, p.Windows[1])
	for i := range p.Windows {
		p.Windows[i].Terms.Deliveries, p.Windows[i].Terms.Apart = 6, 9
	}
	all := p.occasions()
	if end := all[len(all)-1]; len(all) != mostOccasions+1 || end.median != 430 || end.nth != 0 {
		t.Errorf("%d deliveries, the last on day %d; want ten, the last on day 430", len(all), end.median)
	}
}
