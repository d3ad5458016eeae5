package resupply

import (
	"cmp"
	"math"
	"slices"

	"overwinter/internal/calendar"
)

// Line is one dated line of the deciding path, in whole litres at 15 °C. Each line's stock is the one
// before less burn and draws plus received, exactly, and it is below the reserve just where it is so
// before rounding: the reserve gives way by a litre or two for that.
type Line struct {
	Day      calendar.Day `json:"day"`
	Events   []Event      `json:"events"`
	Burn     int64        `json:"burn_l15"`     // since the line before
	Draws    int64        `json:"draws_l15"`    // since the line before
	Received int64        `json:"received_l15"` // since the line before
	Stock    int64        `json:"stock_l15"`    // at the close of the day
	Reserve  int64        `json:"reserve_l15"`  // at the close of the day
}

// Explanation is the arithmetic behind an answer: the path that decides it as dated lines, then the
// steps from the day on which it turns to the answer.
type Explanation struct {
	Guard Guard  `json:"guard,omitempty"`
	Path  int    `json:"path"`
	Lines []Line `json:"lines"`
	Steps []Step `json:"steps"`
}

// dated is an event on a day that is worth a line.
type dated struct {
	day int
	Event
}

func on(day int, kind EventKind) dated { return dated{day, Event{Kind: kind}} }

// lines tells a path day by day of interest, up to the last of the given events: the start, the end of
// each month where nothing else is told of that day, arrivals, and the events.
func (p *Problem) lines(path int, more ...dated) []Line {
	until := 0
	for _, e := range more {
		until = max(until, min(e.day, p.Horizon))
	}
	events := append([]dated{on(0, StockNow)}, more...)
	for _, r := range p.Receipts {
		if r.Day[path] <= until {
			events = append(events, dated{r.Day[path], Event{OrderArrives, r.Order}})
		}
	}
	for day := 1; day < until; day++ {
		if p.monthEnds(day) && !slices.ContainsFunc(events, func(e dated) bool { return e.day == day }) {
			events = append(events, on(day, MonthEnds))
		}
	}
	slices.SortStableFunc(events, func(a, b dated) int { return cmp.Compare(a.day, b.day) })
	return p.tell(path, events)
}

func (p *Problem) monthEnds(day int) bool {
	_, _, next := (p.AsOf + calendar.Day(day+1)).Civil()
	return next == 1
}

// tell gives each day of the events a line.
func (p *Problem) tell(path int, events []dated) []Line {
	var told []Line
	for _, e := range events {
		if e.day > p.Horizon {
			continue
		}
		if k := len(told) - 1; k >= 0 && told[k].Day == p.AsOf+calendar.Day(e.day) {
			told[k].Events = append(told[k].Events, e.Event)
			continue
		}
		told = append(told, p.line(path, e, told))
	}
	return told
}

// line rounds the cumulative figures, not the steps, so that rounding does not pile up; the stock then
// follows from the rounded parts.
func (p *Problem) line(path int, e dated, before []Line) Line {
	l := Line{Day: p.AsOf + calendar.Day(e.day), Events: []Event{e.Event}, Reserve: whole(p.reserve(path, e.day))}
	burned, drawn, received := whole(p.Burn.Cumulative(path, e.day)), whole(p.drawn(e.day)), int64(0)
	for i := range p.Receipts {
		if r := &p.Receipts[i]; r.Day[path] <= e.day {
			received += whole(r.on(path))
		}
	}
	l.Burn, l.Draws, l.Received = burned, drawn, received
	l.Stock = whole(p.Stock[path]) - burned - drawn + received
	for _, b := range before {
		l.Burn, l.Draws, l.Received = l.Burn-b.Burn, l.Draws-b.Draws, l.Received-b.Received
	}
	if p.stock(path, e.day) < p.reserve(path, e.day) { // rounding must not turn the comparison round
		l.Reserve = max(l.Reserve, l.Stock+1)
	} else {
		l.Reserve = min(l.Reserve, l.Stock)
	}
	return l
}

func whole(litres float64) int64 { return int64(math.Round(litres)) }

// explainReserve tells the path on which the reserve is reached first at the risk target.
func (p *Problem) explainReserve(first ranked[int]) Explanation {
	return Explanation{
		Path:  first.path,
		Lines: p.lines(first.path, on(p.Horizon, HorizonEnds)),
		Steps: []Step{{Kind: ReserveHolds, Risk: &p.Risk}},
	}
}

// explainOrder tells the path that decides the reorder date.
func (p *Problem) explainOrder(o *Order, reserveDay []int) Explanation {
	path, w := o.By.Path, o.Window
	x := Explanation{Guard: o.By.Guard, Path: path}
	orderBy := on(o.By.Day, LastOrderDay)
	switch o.By.Guard {
	case ReserveGuard:
		day := reserveDay[path]
		x.Lines = p.lines(path, append(crossing(day), orderBy)...)
		x.Steps = append([]Step{{Kind: ReserveFalls, Day: p.date(day)}}, p.back(day, w, path)...)
		if o.By.Day < day-w.Slip[path]-w.Lead[path] {
			x.Steps = append(x.Steps, Step{Kind: TogetherLater, Day: p.date(o.By.Day)})
		}
	case WindowGuard:
		closes := w.Closes[path]
		x.Lines = p.lines(path, orderBy, on(closes, WindowClosing))
		x.Steps = append([]Step{w.step(ClosesAfter, p.date(closes))}, p.back(closes, w, path)...)
	case DeadlineGuard:
		x.Lines = p.lines(path, orderBy)
		x.Steps = []Step{w.step(DeadlineIs, p.date(o.By.Day))}
	}
	x.Steps = append(x.Steps, o.lotSteps()...)
	return x
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
		x.Lines = p.lines(path, events...)
		x.Steps = append(x.Steps, p.shortCauses(len(p.Windows)-1, reserveDay)...)
		x.Steps = append(x.Steps, Step{Kind: NoneReachable})
		return x
	}
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
	x.Lines = p.lines(path, events...)
	x.Steps = append(x.Steps, amount(MissingAtRisk, missing.Litres))
	x.Steps = append(x.Steps, o.lotSteps()...)
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
