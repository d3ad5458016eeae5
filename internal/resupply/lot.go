package resupply

import (
	"math"

	"overwinter/internal/calendar"
)

// LotAdvice is how much to order, in litres at 15 °C.
type LotAdvice struct {
	Least float64 // carries the plant to the following window at the risk target
	Room  float64 // fits on arrival at the risk target
	Most  float64 // the most that fits and may come on the day of arrival, at the risk target
	Lot   float64 // what to order: the least, kept to the route's minimum and step, and to the most
	// Limit names what sets the most: the room in the tanks on arrival, the route's largest lot, or what bounds the
	// lots of the day of arrival.
	Limit Limit
	// Cut tells that on more paths than the risk target accepts no following window delivers within the
	// horizon: the least then carries only to its end.
	Cut bool
	// After is what the lot leaves short before the following window, nil if nothing.
	After *Shortage
}

// Limit names what sets the most that a lot can be.
type Limit string

// The limits of a lot.
const (
	RoomLimit  Limit = "room on arrival"
	RouteLimit Limit = "the route's largest lot"
	LeastLimit Limit = "the route's smallest lot or step, for which there is no room"

	DraftLimit  Limit = "draft"  // of the water on the day of arrival
	WeightLimit Limit = "weight" // that road, ice or runway bear then
	TideLimit   Limit = "tide"
	DayOther    Limit = "another limit on the day of arrival"
)

// ofDay tells a limit of the day of arrival from those of the route and the tanks.
func (l Limit) ofDay() bool {
	return l == DraftLimit || l == WeightLimit || l == TideLimit || l == DayOther
}

// bridging gives what a fallback has brought on a path by the time the lot arrives: just enough to keep
// the reserve until then, nothing where the stock keeps it anyway. The day is that of the largest gap.
func (p *Problem) bridging(path, arrival int) (d delivery, worst int) {
	litres, worst := p.shortage(path, 0, arrival)
	return delivery{math.Max(0, litres), arrival}, worst
}

// sizing is what a lot rests on: the day of the order, and the paths at the bounds of need and room.
type sizing struct {
	ordered    int
	need, room ranked[float64]
	none       bool // the lot arrives on no path within the horizon
}

// size works out the lot that is ordered on a day from the window.
func (p *Problem) size(o *Order, ordered int) {
	var need, room, most []float64
	var why []Limit
	var arrives []int // the paths; the guards answer for those on which it does not arrive
	cut := 0
	for s := range o.Window.Opens {
		arrival := o.Window.Arrival(s, ordered)
		if arrival > p.Horizon {
			continue
		}
		following := p.followingArrival(o, s, ordered)
		if following > p.Horizon {
			cut++
		}
		bridge, _ := p.bridging(s, arrival)
		short, _ := p.shortage(s, arrival, following, bridge)
		free, _ := p.room(s, arrival, following, bridge)
		largest, limit := o.Window.Largest(arrival)
		if free <= largest {
			limit = RoomLimit
		}
		need, room, arrives = append(need, short), append(room, free), append(arrives, s)
		most, why = append(most, min(free, largest)), append(why, limit)
	}
	o.sizing = sizing{ordered: ordered, none: need == nil}
	if need == nil {
		return
	}
	o.need, o.room = upperBound(need, p.Risk), bound(room, p.Risk)
	o.need.path, o.room.path = arrives[o.need.path], arrives[o.room.path]
	o.Lot.Cut = float64(cut) > p.Risk*float64(len(need))
	o.Lot.Least, o.Lot.Room = math.Max(0, o.need.value), math.Max(0, o.room.value)
	limits := o.Window.Lot
	tightest := bound(most, p.Risk)
	o.Lot.Most, o.Lot.Limit = math.Max(0, tightest.value), why[tightest.path]
	if o.Lot.Limit.ofDay() {
		o.Lot.Most = math.Floor(o.Lot.Most) // as it is printed
	}
	o.Lot.Lot = limits.fit(o.Lot.Least, o.Lot.Most)
	if o.Lot.Lot == 0 && o.Lot.Least > 0 && o.Lot.Most > 0 {
		o.Lot.Limit = LeastLimit
	}
	o.Lot.After = p.leftShort(o, ordered)
}

// mostOfDay is what may come on the day of arrival at the risk target, +Inf where room and the route alone say it.
func (o *Order) mostOfDay() float64 {
	most := o.Lot.Room
	if o.Window.Lot.Max > 0 {
		most = min(most, o.Window.Lot.Max)
	}
	if o.Lot.Most < most {
		return o.Lot.Most
	}
	return math.Inf(1)
}

// room gives the most that a lot may bring on a path, and the day that sets it: what is free on arrival,
// before the day's burn, or less where an order on its way arrives after it or a tank goes out of service
// before the following window delivers.
func (p *Problem) room(path, arrival, following int, bridge delivery) (least float64, day int) {
	least = math.Inf(1)
	p.stretches(path, arrival, min(following-1, p.Horizon), []delivery{bridge}, func(first, _ int) bool {
		if free := p.capacity(first) - p.heldBefore(path, first, bridge); free < least {
			least, day = free, first
		}
		return false
	})
	return least, day
}

// heldBefore gives the stock on a day before its outflow.
func (p *Problem) heldBefore(path, day int, more ...delivery) float64 {
	held := p.stock(path, day, more...)
	if day > 0 {
		held += p.outflow(path, day-1, day)
	}
	return held
}

// followingArrival is the first day after an order's own arrival on which another order, placed on the
// same day at the earliest, brings fuel on a path; one day past the horizon where none does. A way open
// all year is there again at once.
func (p *Problem) followingArrival(o *Order, path, ordered int) int {
	own := o.Window.Arrival(path, ordered)
	first := p.Horizon + 1
	switch {
	case own == Never: // then whatever comes next follows
		own = ordered
	case o.Window.AllYear && own <= p.Horizon:
		first = min(first, max(o.Window.Arrival(path, own), own+1))
	}
	for i := range p.Windows {
		w := &p.Windows[i]
		if i == o.index || (w.OrderBy != nil && *w.OrderBy < ordered) {
			continue
		}
		if day := w.Arrival(path, ordered); day > own {
			first = min(first, day)
		}
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
		until := p.followingArrival(o, s, ordered)
		lot := o.Window.brought(o.Lot.Lot, arrival)
		bridge, _ := p.bridging(s, arrival)
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
