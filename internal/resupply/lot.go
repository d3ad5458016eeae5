package resupply

import (
	"math"

	"overwinter/internal/calendar"
)

// LotAdvice is how much to order, in litres at 15 °C.
type LotAdvice struct {
	Least float64 // carries the plant to the following window at the risk target
	Most  float64 // fits on arrival at the risk target, within the route's largest lot
	Lot   float64 // what to order: the least, kept to the route's minimum and step, and to the most
	// After is what the lot leaves short before the following window, nil if nothing.
	After *Shortage
}

// size works out the lot that is ordered on a day from the window, with any fuel that a fallback has
// brought before it arrives.
func (p *Problem) size(o *Order, ordered int, before ...delivery) {
	var need, room []float64
	for s := range o.Window.Opens {
		arrival := o.Window.Arrival(s, ordered)
		if arrival > p.Horizon {
			continue // the guards answer for paths on which it does not arrive
		}
		short, _ := p.shortage(s, arrival, p.followingArrival(o.index, s), before...)
		need = append(need, short)
		room = append(room, p.capacity(arrival)-p.stock(s, max(arrival-1, 0), before...))
	}
	if need == nil {
		return
	}
	limits := o.Window.Lot
	o.Lot.Least = math.Max(0, upperBound(need, p.Risk).value)
	o.Lot.Most = math.Max(0, bound(room, p.Risk).value)
	if limits.Max > 0 {
		o.Lot.Most = math.Min(o.Lot.Most, limits.Max)
	}
	o.Lot.Lot = limits.fit(o.Lot.Least, o.Lot.Most)
	o.Lot.After = p.leftShort(o, ordered, before)
}

// fit keeps a wanted lot to the minimum, the step and the most that there is room for; a lot under
// the minimum cannot be delivered at all.
func (l Lot) fit(wanted, most float64) float64 {
	if wanted <= 0 {
		return 0
	}
	lot := math.Max(wanted, l.Min)
	if l.Step > 0 {
		lot = l.Step * math.Ceil(lot/l.Step-1e-9)
	}
	if lot > most {
		lot = most
		if l.Step > 0 {
			lot = l.Step * math.Floor(most/l.Step+1e-9)
		}
	}
	if lot < l.Min {
		return 0
	}
	return lot
}

// followingArrival is the first day on which a later window brings fuel on a path, one day past the
// horizon where none does.
func (p *Problem) followingArrival(index, path int) int {
	first := p.Horizon + 1
	for i := index + 1; i < len(p.Windows); i++ {
		first = min(first, p.Windows[i].Arrival(path, 0))
	}
	return first
}

// leftShort says what the lot leaves short before the following window, nil if it carries.
func (p *Problem) leftShort(o *Order, ordered int, before []delivery) *Shortage {
	if o.Lot.Lot >= o.Lot.Least {
		return nil
	}
	var short []float64
	var from []int
	for s := range o.Window.Opens {
		arrival := o.Window.Arrival(s, ordered)
		if arrival > p.Horizon {
			continue
		}
		until := p.followingArrival(o.index, s)
		with := append([]delivery{{o.Lot.Lot, arrival}}, before...)
		litres, _ := p.shortage(s, arrival, until, with...)
		short = append(short, litres)
		from = append(from, p.firstBelow(s, arrival, min(until-1, p.Horizon), with...))
	}
	litres := upperBound(short, p.Risk).value
	first := bound(from, p.Risk).value
	if litres <= 0 || first == Never {
		return nil
	}
	return &Shortage{Litres: litres, From: p.AsOf + calendar.Day(first), Loads: p.loads(litres, first)}
}
