package replay

import (
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// policy orders visits and says how far each fills the tanks. It knows what a view holds, no more.
type policy interface {
	name() string
	// orders gives the visits to order at the decision, before the next.
	orders(v *view) []call
	// level gives the litres that the tanks should hold after a visit that arrives on a day; the view is that of the last
	// decision before it.
	level(v *view, of visit, day calendar.Day) float64
}

// view is what is known at a decision: at the close of the as-of day.
type view struct {
	s          *Scenario
	plant      *Plant
	asOf, next calendar.Day // next is the as-of day of the decision to follow
	stock      float64
	outlooks   []outlook
	orders     []order
	flights    []flight
	means      means
	ahead      *foresight
}

// ordered gives the orders of a window, in the order in which they were placed.
func (v *view) ordered(year int) (all []order) {
	for _, o := range v.orders {
		if o.year == year {
			all = append(all, o)
		}
	}
	return all
}

// each lists the visits that must be ordered before the next decision, if every window is to be visited as often and as early as it
// can be: later they come late at more than the risk target.
func (v *view) each() []call {
	var all []call
	for i := range v.outlooks {
		o := &v.outlooks[i]
		for nth := len(v.ordered(o.year)); nth < v.s.Window.Deliveries; nth++ {
			after := nth * v.s.Window.Apart
			if v.asOf+calendar.Day(v.inTime(o, after)) < v.next {
				all = append(all, call{visit{o.year, nth}, after})
			}
		}
	}
	return all
}

// inTime is the last day on which an order comes so many days after the opening at all but the risk target.
func (v *view) inTime(o *outlook, after int) int {
	var days []int
	for p, opens := range o.Opens {
		if opens != resupply.Never {
			days = append(days, opens+after-o.Lead[p])
		}
	}
	slices.Sort(days)
	return days[max(resupply.Allowed(len(days), v.s.Risk), 0)]
}
