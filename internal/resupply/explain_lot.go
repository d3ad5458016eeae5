package resupply

// explainLot tells the paths that decide the least lot and the room for it, and ends the steps with the lot.
func (p *Problem) explainLot(x *Explanation, o *Order) {
	if o.none {
		x.Steps = append(x.Steps, o.Window.step(NothingArrives, nil))
		return
	}
	x.Need, x.Room = p.explainNeed(o), p.explainRoom(o)
	x.Steps = append(x.Steps, o.lotSteps()...)
}

// explainNeed tells the path at the bound of need, from the arrival of the lot, whose own litres are left out,
// to the day on which most is missing before the following delivery.
func (p *Problem) explainNeed(o *Order) *Deciding {
	of, arrival, following, events := p.awaiting(o, o.need.path)
	_, day := p.shortage(of.path, arrival, following, of.fallback)
	reserve, stock := amount(ReserveThen, p.reserve(of.path, day)), amount(StockThen, p.stock(of.path, day, of.fallback))
	reserve.Day, stock.Day = p.date(day), p.date(day)
	until := Step{Kind: NoneFollows, Day: p.date(p.Horizon)}
	if following <= p.Horizon {
		until = Step{Kind: FollowingOn, Day: p.date(following)}
		events = append(events, on(following, FollowingArrives))
	}
	return &Deciding{of.path, p.lines(of, append(events, on(day, MostMissing))...), []Step{until, reserve, stock, amount(MissingThen, o.need.value)}}
}

// explainRoom tells the path at the bound of room, to the day that leaves the least, and the day before it, at
// whose close the tanks hold what is there before the day's outflow.
func (p *Problem) explainRoom(o *Order) *Deciding {
	of, arrival, following, events := p.awaiting(o, o.room.path)
	_, day := p.room(of.path, arrival, following, of.fallback)
	if day > 0 {
		events = append(events, on(day-1, DayBefore))
	}
	hold, held := amount(TanksHold, p.capacity(day)), amount(HeldBefore, p.heldBefore(of.path, day, of.fallback))
	hold.Day, held.Day = p.date(day), p.date(day)
	return &Deciding{of.path, p.lines(of, append(events, on(day, LeastRoom))...), []Step{hold, held, amount(FreeThen, o.room.value)}}
}

// awaiting gives how to tell a path from the order's day on, the days of the lot and of the following
// delivery, and what happens until the lot arrives.
func (p *Problem) awaiting(o *Order, path int) (of telling, arrival, following int, events []dated) {
	arrival, following = o.Window.Arrival(path, o.ordered), p.followingArrival(o, path, o.ordered)
	bridge, worst := p.bridging(path, arrival)
	events = []dated{on(o.ordered, LotOrdered)}
	if bridge.litres > 0 {
		events = append(events, on(worst, LowestBefore), on(arrival, FallbackKept))
	}
	return telling{path, arrival, bridge}, arrival, following, append(events, on(arrival, LotArrives))
}

// lotSteps says how the lot follows from what is needed, through one limit after the other.
func (o *Order) lotSteps() []Step {
	l := o.Lot
	if l.Least == 0 {
		return []Step{{Kind: NoLotNeeded}}
	}
	least := LeastFollowing
	if l.Cut {
		least = LeastHorizon
	}
	steps := []Step{amount(least, l.Least)}
	for _, c := range o.Window.Lot.clips(l.Least, l.Room, o.mostOfDay()) {
		steps = append(steps, c.step())
	}
	return append(steps, amount(l.kind(), l.Lot))
}

// step makes a step of a limit; the route's own are given as they are stated, the room is in whole litres.
func (c clip) step() Step {
	s, lot := amount(c.by, c.limit), int64(whole(c.lot))
	s.Lot = &lot
	if c.by != RoomThen && c.by != WindowMost {
		s.Limit = &c.limit
	}
	return s
}

// kind says what sets the lot.
func (l LotAdvice) kind() StepKind {
	switch {
	case l.Lot > l.Least:
		return LotRaised
	case l.Lot == l.Least:
		return LotAsNeeded
	case l.Limit == LeastLimit:
		return LotUnfit
	case l.Limit == RouteLimit:
		return LotOfRoute
	case l.Limit.ofDay():
		return LotOfWindow
	}
	return LotOfRoom
}
