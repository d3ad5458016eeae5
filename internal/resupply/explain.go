package resupply

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"overwinter/internal/calendar"
)

// Line is one dated line of the deciding path, in whole litres at 15 °C. Each line's stock is the one
// before less burn and draws plus received, exactly, and it is below the reserve just where it is so
// before rounding: the reserve gives way by a litre or two for that.
type Line struct {
	Day      calendar.Day `json:"day"`
	Event    string       `json:"event"`
	Burn     int64        `json:"burn_l15"`     // since the line before
	Draws    int64        `json:"draws_l15"`    // since the line before
	Received int64        `json:"received_l15"` // since the line before
	Stock    int64        `json:"stock_l15"`    // at the close of the day
	Reserve  int64        `json:"reserve_l15"`  // at the close of the day
}

// Explanation is the arithmetic behind an answer: the path that decides it as dated lines, then the
// steps from the day on which it turns to the answer.
type Explanation struct {
	Guard Guard    `json:"guard,omitempty"`
	Path  int      `json:"path"`
	Lines []Line   `json:"lines"`
	Steps []string `json:"steps"`
}

// event is a day worth a line.
type event struct {
	day  int
	text string
}

// lines tells a path day by day of interest, up to the last of the given events: the start, the end of
// each month, arrivals, and the events.
func (p *Problem) lines(path int, more ...event) []Line {
	until := 0
	for _, e := range more {
		until = max(until, min(e.day, p.Horizon))
	}
	events := append([]event{{0, "stock now"}}, more...)
	for day := 1; day < until; day++ {
		if _, _, dom := (p.AsOf + calendar.Day(day+1)).Civil(); dom == 1 {
			events = append(events, event{day, "month ends"})
		}
	}
	for _, r := range p.Receipts {
		if r.Day[path] <= until {
			events = append(events, event{r.Day[path], "order " + r.Order + " arrives"})
		}
	}
	slices.SortStableFunc(events, func(a, b event) int { return cmp.Compare(a.day, b.day) })
	return p.tell(path, events)
}

func (p *Problem) tell(path int, events []event) []Line {
	var told []Line
	for _, e := range events {
		if e.day > p.Horizon {
			continue
		}
		if k := len(told) - 1; k >= 0 && told[k].Day == p.AsOf+calendar.Day(e.day) {
			if told[k].Event == "month ends" {
				told[k].Event = e.text
			} else if e.text != "month ends" {
				told[k].Event += "; " + e.text
			}
			continue
		}
		told = append(told, p.line(path, e, told))
	}
	return told
}

// line rounds the cumulative figures, not the steps, so that rounding does not pile up; the stock then
// follows from the rounded parts.
func (p *Problem) line(path int, e event, before []Line) Line {
	l := Line{Day: p.AsOf + calendar.Day(e.day), Event: e.text, Reserve: whole(p.reserve(path, e.day))}
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
		Lines: p.lines(first.path, event{p.Horizon, "end of the horizon"}),
		Steps: []string{fmt.Sprintf("on all but the accepted %.3g %% of paths the stock stays above the reserve to the end of the horizon", 100*p.Risk)},
	}
}

// explainOrder tells the path that decides the reorder date.
func (p *Problem) explainOrder(o *Order, reserveDay []int) Explanation {
	path, w := o.By.Path, o.Window
	x := Explanation{Guard: o.By.Guard, Path: path}
	orderBy := event{o.By.Day, "order by"}
	switch o.By.Guard {
	case ReserveGuard:
		day := reserveDay[path]
		x.Lines = p.lines(path, append(crossing(day), orderBy)...)
		x.Steps = p.steps("the stock falls below the reserve", day, w, path)
		if o.By.Day < day-w.Slip[path]-w.Lead[path] {
			x.Steps = append(x.Steps, fmt.Sprintf("over all paths together order by %s: until then it comes as early as an order placed today", *p.date(o.By.Day)))
		}
	case WindowGuard:
		x.Lines = p.lines(path, orderBy, event{w.Closes[path], "window shuts"})
		x.Steps = p.steps("the window shuts after", w.Closes[path], w, path)
	case DeadlineGuard:
		x.Lines = p.lines(path, orderBy)
		x.Steps = []string{fmt.Sprintf("%s: the supplier's own order deadline for %s", *p.date(o.By.Day), w.Name)}
	}
	x.Steps = append(x.Steps, o.lotSteps()...)
	return x
}

// crossing is the day on which the reserve is lost and the one before, if there is one.
func crossing(day int) []event {
	events := []event{{day, "below the reserve"}}
	if day > 0 {
		events = append(events, event{day - 1, "last day above the reserve"})
	}
	return events
}

// steps is the subtraction from the day on which the fuel must be there to the day of the order.
func (p *Problem) steps(why string, day int, w *Window, path int) []string {
	return []string{
		fmt.Sprintf("%s: %s", *p.date(day), why),
		fmt.Sprintf("less %d days slip: %s", w.Slip[path], *p.date(day - w.Slip[path])),
		fmt.Sprintf("less %d days lead time: order by %s", w.Lead[path], *p.date(day - w.Slip[path] - w.Lead[path])),
	}
}

// explainShort tells the path on which the reserve is lost first at the risk target.
func (p *Problem) explainShort(first ranked[int], reserveDay []int, o *Order, missing *Shortage) Explanation {
	path := first.path
	events := crossing(first.value)
	x := Explanation{Path: path}
	x.Steps = append(x.Steps, fmt.Sprintf("%s: the stock falls below the reserve", *p.date(first.value)))
	if o == nil {
		x.Lines = p.lines(path, events...)
		x.Steps = append(x.Steps, p.shortCauses(len(p.Windows)-1, reserveDay)...)
		x.Steps = append(x.Steps, "no window can be reached any more within the horizon")
		return x
	}
	x.Steps = append(x.Steps, p.shortCauses(o.index, reserveDay)...)
	arrival := o.Window.Arrival(path, 0)
	switch {
	case arrival > p.Horizon:
		x.Steps = append(x.Steps, fmt.Sprintf("on this path the window %s brings nothing", o.Window.Name))
	default:
		gap, worst := p.shortage(path, 0, arrival)
		events = append(events, event{worst, "farthest below the reserve before fuel ordered today can come"}, event{arrival, "an order placed today arrives"})
		x.Steps = append(x.Steps,
			fmt.Sprintf("%s: the window %s opens; ordered today with %d days lead time and %d days slip the fuel arrives on %s",
				*p.date(o.Window.Opens[path]), o.Window.Name, o.Window.Lead[path], o.Window.Slip[path], *p.date(arrival)),
			fmt.Sprintf("on this path %.0f L are missing at the worst, on %s", math.Max(0, gap), *p.date(worst)))
	}
	x.Lines = p.lines(path, events...)
	x.Steps = append(x.Steps, fmt.Sprintf("%.0f L cover the shortage at the risk target, on the paths that go worse as well", missing.Litres))
	x.Steps = append(x.Steps, o.lotSteps()...)
	return x
}
