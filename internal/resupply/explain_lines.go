package resupply

import (
	"cmp"
	"slices"

	"overwinter/internal/calendar"
)

// Line is one dated line of a deciding path, in whole litres at 15 °C. Each line's stock is the one before
// less burn and draws plus received, exactly.
type Line struct {
	Day      calendar.Day `json:"day"`
	Events   []Event      `json:"events"`
	Burn     int64        `json:"burn_l15"`     // since the line before
	Draws    int64        `json:"draws_l15"`    // since the line before
	Received int64        `json:"received_l15"` // since the line before
	Stock    int64        `json:"stock_l15"`    // at the close of the day
	Reserve  int64        `json:"reserve_l15"`  // at the close of the day
}

// dated is an event on a day that is worth a line.
type dated struct {
	day int
	Event
}

func on(day int, kind EventKind) dated { return dated{day, Event{Kind: kind}} }

// telling is a path to be told in lines: by month from a day on, with what a fallback brings beside the orders
// on their way.
type telling struct {
	path     int
	from     int
	fallback delivery
}

// lines tells a path up to the last of the given events: the start, arrivals, the events, and the end of each
// month where nothing else is told of that day. What lies beyond the horizon is not told.
func (p *Problem) lines(of telling, more ...dated) []Line {
	events := []dated{on(0, StockNow)}
	until := 0
	for _, e := range more {
		if e.day <= p.Horizon {
			events, until = append(events, e), max(until, e.day)
		}
	}
	for i := range p.Receipts {
		if r := &p.Receipts[i]; r.Day[of.path] <= until {
			events = append(events, dated{r.Day[of.path], Event{OrderArrives, r.Order}})
		}
	}
	for day := max(of.from, 1); day < until; day++ {
		if p.monthEnds(day) && !slices.ContainsFunc(events, func(e dated) bool { return e.day == day }) {
			events = append(events, on(day, MonthEnds))
		}
	}
	slices.SortStableFunc(events, func(a, b dated) int { return cmp.Compare(a.day, b.day) })
	return p.tell(of, events)
}

func (p *Problem) monthEnds(day int) bool {
	_, _, next := (p.AsOf + calendar.Day(day+1)).Civil()
	return next == 1
}

// tell gives each day of the events a line.
func (p *Problem) tell(of telling, events []dated) []Line {
	var told []Line
	var before Line // cumulated
	for _, e := range events {
		if k := len(told) - 1; k >= 0 && told[k].Day == p.AsOf+calendar.Day(e.day) {
			told[k].Events = append(told[k].Events, e.Event)
			continue
		}
		total := p.cumulated(of, e.day)
		l := total
		l.Events = []Event{e.Event}
		l.Burn, l.Draws, l.Received = l.Burn-before.Burn, l.Draws-before.Draws, l.Received-before.Received
		told, before = append(told, l), total
	}
	return told
}

// cumulated is a day's line with all that went out and came in since the as-of day.
func (p *Problem) cumulated(of telling, day int) Line {
	l := Line{
		Day: p.AsOf + calendar.Day(day), Burn: int64(p.burned(of.path, day)), Draws: int64(p.drawn(day)),
		Stock: int64(p.stock(of.path, day, of.fallback)), Reserve: int64(p.reserve(of.path, day)),
	}
	l.Received = l.Stock - int64(whole(p.Stock[of.path])) + l.Burn + l.Draws
	return l
}
