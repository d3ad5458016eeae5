package resupply

import (
	"cmp"
	"math"
	"slices"
)

// Change names what is otherwise in a problem, and the unit of how much.
type Change string

// The changes that an answer's sensitivity is told of.
const (
	ChangedLead     Change = "lead-time-days" // of every window
	ChangedRoom     Change = "room-l15"       // of the tanks in service, on every day
	ChangedRisk     Change = "risk-points"    // percentage points of the risk target
	ChangedReserve  Change = "reserve-days"
	ChangedReserveL Change = "reserve-l15"         // of a reserve that is a volume: a day at the coming outflow
	ChangedBurn     Change = "burn-percent"        // on every day
	ChangedOpening  Change = "window-opening-days" // of the window that the order is from
)

// Changes lists every change.
func Changes() []Change {
	return []Change{ChangedLead, ChangedRoom, ChangedRisk, ChangedReserve, ChangedReserveL, ChangedBurn, ChangedOpening}
}

// Sensitivity is what one change alone would do to the answer.
type Sensitivity struct {
	What Change  `json:"what"`
	By   float64 `json:"by"`
	// OrderByDays is by how many days the last day to order would be later; nil where there is no order without
	// the change, or none with it.
	OrderByDays *int  `json:"order_by_days"`
	Lot         int64 `json:"lot_l15"`
	// Short is by how much more would be missing: until a window delivers, and after a lot that does not last.
	Short int64 `json:"short_l15"`
	// Status, Route and Window are those of the answer with the change; empty without an order.
	Status Status `json:"status"`
	Route  string `json:"route"`
	Window string `json:"window"`
}

// Sensitivities decides the problem again on the same paths with one thing changed at a time, and tells what
// that does to the answer d, the greatest effect first.
func (p *Problem) Sensitivities(d Decision) []Sensitivity {
	var all []Sensitivity
	for _, c := range p.changed(d) {
		all = append(all, compare(c, d, Decide(&c.problem)))
	}
	day := p.meanDay()
	slices.SortStableFunc(all, func(a, b Sensitivity) int { return cmp.Compare(p.effect(b, d, day), p.effect(a, d, day)) })
	return all
}

// changed is a problem with one thing changed.
type changed struct {
	what    Change
	by      float64
	problem Problem
}

func compare(c changed, d, with Decision) Sensitivity {
	s := Sensitivity{What: c.what, By: c.by, Status: with.Status, Short: int64(with.missing() - d.missing()), Lot: int64(with.lot() - d.lot())}
	if with.Order != nil {
		s.Route, s.Window = with.Order.Window.Route, with.Order.Window.Name
		if d.Order != nil {
			later := with.Order.By.Day - d.Order.By.Day
			s.OrderByDays = &later
		}
	}
	return s
}

func (d Decision) lot() float64 {
	if d.Order == nil {
		return 0
	}
	return d.Order.Lot.Lot
}

// missing is what no window brings in time, and what the lot leaves short before the following one.
func (d Decision) missing() float64 {
	litres := 0.0
	if d.Short != nil {
		litres = d.Short.Litres
	}
	if d.Order != nil && d.Order.Lot.After != nil {
		litres += d.Order.Lot.After.Litres
	}
	return litres
}

// effect puts a change of the answer in one figure, to sort by: days of the order and, at a day's outflow,
// litres of lot and shortage. An order that comes or goes counts as the whole horizon. A convention, no source.
func (p *Problem) effect(s Sensitivity, d Decision, day float64) float64 {
	days := 0.0
	switch {
	case s.OrderByDays != nil:
		days = math.Abs(float64(*s.OrderByDays))
	case (s.Route != "") != (d.Order != nil):
		days = float64(p.Horizon)
	}
	return days + (math.Abs(float64(s.Lot))+math.Abs(float64(s.Short)))/day
}

// meanDay is the outflow of a day, the mean over paths and the horizon, at least a litre.
func (p *Problem) meanDay() float64 {
	sum, n := 0.0, p.Burn.Count()
	for s := range n {
		sum += p.out(s, p.Horizon)
	}
	return math.Max(1, whole(sum/float64(n*max(p.Horizon, 1))))
}
