package resupply

import "math"

// clip is one limit that a lot is kept to, and the lot after it.
type clip struct {
	by         StepKind
	limit, lot float64
}

// clips keeps a wanted lot to one limit after the other: the route's smallest lot and its step, the room, the
// route's largest lot, and what may come on the day; +Inf is no limit. What is more than there is room for, or than
// may come, is cut to whole steps. The limits need not be whole litres: a step may be so many gallons.
func (l Lot) clips(wanted, room, ofDay float64) []clip {
	var all []clip
	lot := wanted
	keep := func(by StepKind, limit, to float64) {
		lot = to
		all = append(all, clip{by, limit, lot})
	}
	if l.Min > 0 {
		keep(RouteLeast, l.Min, math.Max(lot, l.Min))
	}
	if l.Step > 0 {
		keep(RouteStep, l.Step, l.inSteps(lot))
	}
	keep(RoomThen, room, l.within(lot, room))
	if l.Max > 0 {
		keep(RouteMost, l.Max, l.within(lot, l.Max))
	}
	if !math.IsInf(ofDay, 1) {
		keep(WindowMost, ofDay, l.within(lot, ofDay))
	}
	return all
}

// littleOfStep is what two ways of reckoning a whole number of steps may differ by.
const littleOfStep = 1e-9

// inSteps raises a lot to a whole number of steps.
func (l Lot) inSteps(lot float64) float64 {
	if l.Step <= 0 {
		return lot
	}
	return l.Step * math.Ceil(lot/l.Step-littleOfStep)
}

// within keeps a lot to a most.
func (l Lot) within(lot, most float64) float64 {
	switch {
	case lot <= most:
		return lot
	case l.Step > 0:
		return l.Step * math.Floor(most/l.Step+littleOfStep)
	}
	return most
}

// Fit gives the lot that is delivered where some litres are wanted and the tanks have room for so many: 0 where the
// limits allow none. It is the last of the clips, not rounded to litres.
func (l Lot) Fit(wanted, room float64) float64 {
	if wanted <= 0 {
		return 0
	}
	if l.Max > 0 {
		room = math.Min(room, l.Max)
	}
	lot := l.within(l.inSteps(math.Max(wanted, l.Min)), math.Max(0, room))
	if lot < l.Min {
		return 0
	}
	return lot
}

// fit gives the lot for what is wanted, to the litre; one under the route's smallest cannot be delivered at all.
func (l Lot) fit(wanted, room float64) float64 { return whole(l.Fit(wanted, room)) }
