package resupply

import (
	"math"

	"overwinter/internal/calendar"
)

// Shortage is fuel that no window brings in time.
type Shortage struct {
	Litres float64       // at 15 °C, enough at the risk target
	From   calendar.Day  // the day from which the risk of going below reserve exceeds the target
	Until  *calendar.Day // the day by which the next window has delivered at all but the risk; nil if none does
	Loads  []Loads       // what each fallback would take, in the order of the problem
}

// Loads is a shortage in loads of one fallback.
type Loads struct {
	Route, Mode string
	Loads       int
	Load        float64 // litres at 15 °C of one
	LeadDays    int
	InTime      bool          // ordered today, the first load arrives before the shortage begins
	OrderBy     *calendar.Day // the last day on which that still holds; nil where it does not today
	Cost        float64       // of whole loads, in major units of Currency; 0 where the price is not known
	Currency    string
}

// short answers where no window can hold the reserve: how much is missing until the first window that
// an order placed today can reach, and what to order from that.
func (p *Problem) short(first ranked[int]) (*Order, *Shortage) {
	order := p.firstReachable()
	arrival := func(s int) int {
		if order == nil {
			return p.Horizon + 1
		}
		own := order.Window.Arrival(s, 0)
		if own == Never { // then whatever else comes
			return p.followingArrival(order, s, 0)
		}
		return min(own, p.Horizon+1)
	}
	need := perPath(p.Burn.Count(), func(s int) float64 {
		litres, _ := p.shortage(s, 0, arrival(s))
		return litres
	})
	missing := &Shortage{
		Litres: math.Max(0, upperBound(need, p.Risk).value),
		From:   p.AsOf + calendar.Day(first.value),
	}
	missing.Loads = p.loads(missing.Litres, first.value)
	if order != nil {
		arrivals := perPath(p.Burn.Count(), func(s int) float64 { return float64(arrival(s)) })
		if until := int(upperBound(arrivals, p.Risk).value); until <= p.Horizon {
			missing.Until = p.date(until)
		}
		p.size(order, 0)
	}
	return order, missing
}

// firstReachable is the order from the first window that one placed today may still reach. The reserve
// is lost already, so its last day is the one on which it still comes as early as today's would: later
// the shortage grows. It is today where that day has passed.
func (p *Problem) firstReachable() *Order {
	w, i := p.nextWindow()
	if w == nil {
		return nil
	}
	o := p.orderFrom(i, perPath(p.Burn.Count(), func(int) int { return Never }))
	soonest := w.last(SoonestGuard, perPath(len(w.Opens), func(s int) int { return w.Opens[s] - w.Lead[s] }), p.Risk)
	o.By = earliest(o.Shuts, o.Late, &soonest)
	o.due = o.By.Day
	o.By.Day = max(o.By.Day, 0)
	return o
}

// cost is that of whole loads, 0 where the price is not known.
func (f Fallback) cost(loads int) float64 {
	if f.Price == 0 {
		return 0
	}
	return float64(loads) * (f.Load*f.Price + f.Fixed)
}

func (p *Problem) loads(litres float64, from int) []Loads {
	var all []Loads
	for _, f := range p.Fallbacks {
		if f.Load <= 0 {
			continue
		}
		n := int(math.Ceil(litres/f.Load - 1e-9))
		l := Loads{
			Route: f.Route, Mode: f.Mode, Loads: n, Load: f.Load, LeadDays: f.LeadDays, InTime: f.LeadDays <= from,
			Cost: f.cost(n), Currency: f.Currency,
		}
		if l.InTime {
			l.OrderBy = p.date(from - f.LeadDays)
		}
		all = append(all, l)
	}
	return all
}
