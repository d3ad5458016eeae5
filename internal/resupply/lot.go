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
	// Limit names what sets the most: the room in the tanks on arrival, or the route's largest lot.
	Limit Limit
	// After is what the lot leaves short before the following window, nil if nothing.
	After *Shortage
}

// Limit names what sets the most that a lot can be.
type Limit string

// The limits of a lot.
const (
	RoomLimit  Limit = "room on arrival"
	RouteLimit Limit = "the route's largest lot"
)

// bridging gives what a fallback has brought on a path by the time the lot arrives: just enough to keep
// the reserve until then, nothing where the stock keeps it anyway.
func (p *Problem) bridging(path, arrival int) delivery {
	litres, _ := p.shortage(path, 0, arrival)
	return delivery{litres: math.Max(0, litres)}
}

// size works out the lot that is ordered on a day from the window.
func (p *Problem) size(o *Order, ordered int) {
	var need, room []float64
	for s := range o.Window.Opens {
		arrival := o.Window.Arrival(s, ordered)
		if arrival > p.Horizon {
			continue // the guards answer for paths on which it does not arrive
		}
		bridge := p.bridging(s, arrival)
		short, _ := p.shortage(s, arrival, p.followingArrival(o.index, s), bridge)
		need = append(need, short)
		room = append(room, p.capacity(arrival)-p.stock(s, max(arrival-1, 0), bridge))
	}
	if need == nil {
		return
	}
	limits := o.Window.Lot
	o.Lot.Least = math.Max(0, upperBound(need, p.Risk).value)
	o.Lot.Most = math.Max(0, bound(room, p.Risk).value)
	o.Lot.Limit = RoomLimit
	if limits.Max > 0 && limits.Max < o.Lot.Most {
		o.Lot.Most, o.Lot.Limit = limits.Max, RouteLimit
	}
	o.Lot.Lot = limits.fit(o.Lot.Least, o.Lot.Most)
	o.Lot.After = p.leftShort(o, ordered)
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
func (p *Problem) leftShort(o *Order, ordered int) *Shortage {
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
		lot, bridge := delivery{o.Lot.Lot, arrival}, p.bridging(s, arrival)
		litres, _ := p.shortage(s, arrival, until, lot, bridge)
		short = append(short, litres)
		from = append(from, p.firstBelow(s, arrival, min(until-1, p.Horizon), lot, bridge))
	}
	litres := upperBound(short, p.Risk).value
	first := bound(from, p.Risk).value
	if litres <= 0 || first == Never {
		return nil
	}
	return &Shortage{Litres: litres, From: p.AsOf + calendar.Day(first), Loads: p.loads(litres, first)}
}
