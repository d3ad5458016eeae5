package resupply

import "math"

// Explanation is the arithmetic behind an answer: the path that decides it as dated lines, then the
// steps from the day on which it turns to the answer. Where there is an order, Need and Room are the paths that
// decide the least of its lot and the room for it; the steps end with the lot.
type Explanation struct {
	Guard Guard     `json:"guard,omitempty"`
	Path  int       `json:"path"`
	Lines []Line    `json:"lines"`
	Steps []Step    `json:"steps"`
	Need  *Deciding `json:"need,omitempty"`
	Room  *Deciding `json:"room,omitempty"`
}

// Deciding is a path that decides one figure: its dated lines, and the steps to what the figure is made of.
type Deciding struct {
	Path  int    `json:"path"`
	Lines []Line `json:"lines"`
	Steps []Step `json:"steps"`
}

// explainReserve tells the path on which the reserve is reached first at the risk target.
func (p *Problem) explainReserve(first ranked[int]) Explanation {
	return Explanation{
		Path:  first.path,
		Lines: p.lines(telling{path: first.path}, on(p.Horizon, HorizonEnds)),
		Steps: []Step{{Kind: ReserveHolds, Risk: &p.Risk}},
	}
}

// explainOrder tells the path that decides the reorder date, then how the lot follows.
func (p *Problem) explainOrder(o *Order, reserveDay []int) Explanation {
	x := Explanation{Guard: o.By.Guard, Path: o.By.Path}
	x.Lines = p.lines(telling{path: o.By.Path}, append(o.turning(reserveDay), on(o.By.Day, LastOrderDay))...)
	x.Steps = p.orderSteps(o, reserveDay)
	p.explainLot(&x, o)
	return x
}

// turning is what happens on the days from which the order's last day is counted back.
func (o *Order) turning(reserveDay []int) []dated {
	w, path := o.Window, o.By.Path
	switch {
	case o.By.Guard == ReserveGuard:
		return crossing(reserveDay[path])
	case o.By.Guard == WindowGuard:
		return []dated{on(w.Closes[path], WindowClosing)}
	case o.By.Guard == SoonestGuard && !w.AllYear && w.Opens[path] > 0:
		return []dated{on(w.Opens[path], WindowOpening)}
	}
	return nil
}

// orderSteps is the subtraction to the last day of the order.
func (p *Problem) orderSteps(o *Order, reserveDay []int) []Step {
	w, path := o.Window, o.By.Path
	var steps []Step
	switch {
	case o.By.Guard == DeadlineGuard:
		return []Step{w.step(DeadlineIs, p.date(o.By.Day))}
	case o.due == tooLate:
		steps = []Step{w.step(ClosesTooSoon, nil)}
	case o.By.Guard == ReserveGuard:
		steps = append([]Step{{Kind: ReserveFalls, Day: p.date(reserveDay[path])}}, p.back(reserveDay[path], w, path)...)
	case o.By.Guard == WindowGuard:
		steps = append([]Step{w.step(ClosesAfter, p.date(w.Closes[path]))}, p.back(w.Closes[path], w, path)...)
	case o.By.Guard == SoonestGuard:
		steps = []Step{w.step(SoonestFrom, p.date(w.Opens[path])), p.step(LessLead, o.due, w.Lead[path])}
	}
	if o.due < 0 {
		steps = append(steps, Step{Kind: DueToday, Day: p.date(0)})
	}
	return steps
}

// crossing is the day on which the reserve is lost and the one before, if there is one.
func crossing(day int) []dated {
	events := []dated{on(day, BelowReserve)}
	if day > 0 {
		events = append(events, on(day-1, LastDayAbove))
	}
	return events
}

// back is the subtraction from the day on which the fuel must be there to the day of the order.
func (p *Problem) back(day int, w *Window, path int) []Step {
	slip, lead := w.Slip[path], w.Lead[path]
	return []Step{p.step(LessSlip, day-slip, slip), p.step(LessLead, day-slip-lead, lead)}
}

// explainShort tells the path on which the reserve is lost first at the risk target.
func (p *Problem) explainShort(first ranked[int], reserveDay []int, o *Order, missing *Shortage) Explanation {
	path := first.path
	events := crossing(first.value)
	x := Explanation{Path: path, Steps: []Step{{Kind: ReserveFalls, Day: p.date(first.value)}}}
	if o == nil {
		x.Lines = p.lines(telling{path: path}, events...)
		x.Steps = append(x.Steps, p.shortCauses(len(p.Windows)-1, reserveDay)...)
		x.Steps = append(x.Steps, Step{Kind: NoneReachable})
		return x
	}
	x.Guard = o.By.Guard
	x.Steps = append(x.Steps, p.shortCauses(o.index, reserveDay)...)
	if arrival := o.Window.Arrival(path, 0); arrival > p.Horizon {
		x.Steps = append(x.Steps, o.Window.step(BringsNothing, nil))
	} else {
		gap, worst := p.shortage(path, 0, arrival)
		events = append(events, on(worst, FarthestBelow), on(arrival, TodayArrives))
		most := amount(MissingOnPath, math.Max(0, gap))
		most.Day = p.date(worst)
		x.Steps = append(x.Steps, append(p.forth(o.Window, path), most)...)
	}
	x.Lines = p.lines(telling{path: path}, events...)
	x.Steps = append(x.Steps, amount(MissingAtRisk, missing.Litres))
	x.Steps = append(x.Steps, p.orderSteps(o, reserveDay)...)
	p.explainLot(&x, o)
	return x
}

// forth is the addition from today to the day on which an order placed today arrives: the lead time and
// the opening, of which the later stands last, then the slip.
func (p *Problem) forth(w *Window, path int) []Step {
	slip, lead, opens := w.Slip[path], w.Lead[path], w.Opens[path]
	arrival := p.step(ArrivesWithSlip, max(lead, opens)+slip, slip)
	ordered, opening := p.step(LeadFromToday, lead, lead), w.step(OpensOn, p.date(opens))
	switch {
	case w.AllYear:
		return []Step{ordered, arrival}
	case opens > lead:
		return []Step{ordered, opening, arrival}
	}
	return []Step{opening, ordered, arrival}
}
