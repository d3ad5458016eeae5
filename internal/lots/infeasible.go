package lots

import (
	"fmt"
	"math"
	"slices"

	"overwinter/internal/units"
)

// Lack says which bound cannot be kept.
type Lack string

// The bounds that can be out of reach.
const (
	LackOfFuel Lack = "need" // by the end of the interval
	LackOfRoom Lack = "room" // at the arrival
)

// Infeasible is the error of a plant for which no plan keeps all bounds. It is of the first window up to which none does.
type Infeasible struct {
	Window int
	Name   string // of the window
	Lack   Lack
	// Litres are the least that are missing, or do not fit, over all plans that keep the bounds before; where a search for whole steps is given up, no
	// plan misses by less.
	Litres units.LitresAt15
}

// Error says it for people.
func (e *Infeasible) Error() string {
	if e.Lack == LackOfRoom {
		return fmt.Sprintf("at the arrival of window %d (%s) at least %.10g L more than its room are in the tanks: give more room, or check room_l15 there and need_l15 before it",
			e.Window+1, e.Name, e.rounded())
	}
	return fmt.Sprintf("at the end of window %d's interval (%s) at least %.10g L are missing whatever is ordered: allow a larger lot, more room, a higher limit or a fallback there, or check need_l15",
		e.Window+1, e.Name, e.rounded())
}

// rounded is the litres to a tenth, for people.
func (e *Infeasible) rounded() float64 { return math.Round(float64(e.Litres)*10) / 10 }

// infeasible looks for the first bound that no plan keeps; nil where every one can be kept, or that was not shown.
func (p *Plant) infeasible() *Infeasible {
	tiny := lineOf(p).tiny
	for w := range p.Windows {
		lack, litres := LackOfRoom, p.first(w).leastDelivered()-float64(p.Windows[w].Room)
		if litres <= tiny && p.Windows[w].Fallback == nil { // a fallback is without bound
			lack, litres = LackOfFuel, p.first(w+1).leastShort()
		}
		switch {
		case math.IsInf(litres, 1): // a search for whole steps before it was given up
			return nil
		case litres > tiny:
			return &Infeasible{w, p.Windows[w].Name, lack, units.LitresAt15(litres)}
		}
	}
	return nil
}

// first is the plant's problem up to some window, limits included.
func (p *Plant) first(n int) *Plant {
	part := &Plant{Name: p.Name, Windows: slices.Clone(p.Windows[:n])}
	for _, limit := range p.Limits {
		limit.Windows = slices.DeleteFunc(slices.Clone(limit.Windows), func(w int) bool { return w >= n })
		part.Limits = append(part.Limits, limit)
	}
	return part
}

// leastDelivered is the least that plans deliver in all.
func (p *Plant) leastDelivered() float64 {
	l := lineOf(p)
	l.reprice(1)
	return l.run(mostNodes).bound
}

// leastShort is the least that plans leave missing at the end of the last interval, which has no fallback.
func (p *Plant) leastShort() float64 {
	last := len(p.Windows) - 1
	p.Windows[last].Fallback = &Fallback{}
	l := lineOf(p)
	l.reprice(0)
	l.flyPrice[last] = 1
	return l.run(mostNodes).bound
}

// reprice gives every source the same price and takes fixed costs away.
func (l *line) reprice(price float64) {
	l.fixed = perWindow{}
	l.constant = 0
	for w := range l.n {
		l.lotPrice[w] = price
		if !math.IsInf(l.flyPrice[w], 1) {
			l.flyPrice[w] = price
		}
	}
}
