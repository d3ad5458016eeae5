package resupply

import (
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// Status says in a word how a plant stands.
type Status string

// The states of a plant.
const (
	InHand    Status = "in hand"
	OrderSoon Status = "order soon"
	OrderNow  Status = "order now"
	Short     Status = "short"   // no window can keep the reserve
	Unknown   Status = "unknown" // readings too old to say
)

// How near the reorder date must be for a status; common practice, no source.
const (
	OrderNowDays  = 30
	OrderSoonDays = 90
)

// Dates is a day as the 10, 50 and 90 % points over paths; nil lies beyond the horizon.
type Dates struct {
	P10 *calendar.Day `json:"p10"`
	P50 *calendar.Day `json:"p50"`
	P90 *calendar.Day `json:"p90"`
}

// Decision is the answer for one plant.
type Decision struct {
	Status      Status
	ReserveDate Dates
	DryDate     Dates
	// DaysToEmpty and DaysToReserve are the days of cover of the stock in hand alone, open orders not
	// counted: medians, nil beyond the horizon.
	DaysToEmpty   *int
	DaysToReserve *int
	// MustLastUntil is the day by which the next window has delivered at all but the risk.
	MustLastUntil *calendar.Day
	Order         *Order
	Short         *Shortage
	Overfull      []Overfull
	Explanation   Explanation
	Notices       notice.List
}

// Order is what to order, by when and from which window.
type Order struct {
	Window  *Window
	index   int
	Reserve Last  // guard (a)
	Shuts   Last  // guard (b)
	By      Last  // the guard that binds, with its day
	Late    *Last // the supplier's own deadline
	Lot     LotAdvice
	due     int // the day by the guard that binds; it may have passed, and the order is then due today
	sizing
}

// Decide answers the problem.
func Decide(p *Problem) Decision {
	p.hold()
	n := p.Burn.Count()
	reserveDay := perPath(n, func(s int) int { return p.firstBelow(s, 0, p.Horizon) })
	d := Decision{
		ReserveDate: p.dates(reserveDay),
		DryDate:     p.dates(perPath(n, p.firstDry)),
	}
	d.DaysToEmpty, d.DaysToReserve = p.cover()
	if Allowed(n, p.Risk) < 0 {
		d.Notices.Add(notice.New(notice.Caution, "paths-too-few", "", "%d paths are too few to certify a risk of %.3g %%", n, 100*p.Risk))
	}
	if w, _ := p.nextWindow(); w != nil {
		d.MustLastUntil = p.mustLastUntil(w)
	}
	first := bound(reserveDay, p.Risk)
	if first.value != Never {
		if d.Order = p.deciding(reserveDay); d.Order == nil {
			d.Order = p.jointly(reserveDay)
		}
	}
	switch {
	case first.value == Never:
		d.Status = InHand
		d.Notices.Add(notice.New(notice.Info, "beyond-horizon", "", "the stock and the open orders last beyond the %d days looked at", p.Horizon))
		d.Explanation = p.explainReserve(first)
	case d.Order == nil:
		d.Status = Short
		d.Order, d.Short = p.short(first)
		d.Explanation = p.explainShort(first, reserveDay, d.Order, d.Short)
	default:
		d.Status = statusOf(d.Order.By.Day)
		d.Explanation = p.explainOrder(d.Order, reserveDay)
	}
	d.Overfull = p.overfull()
	d.Notices.Add(overfullNotices(d.Overfull)...)
	d.Notices.Add(p.orderNotices(d.Order)...)
	return d
}

func statusOf(orderDay int) Status {
	switch {
	case orderDay <= OrderNowDays:
		return OrderNow
	case orderDay <= OrderSoonDays:
		return OrderSoon
	}
	return InHand
}

// deciding finds the order that decides, with its lot: from the window with the latest order day that is
// still to come, so that until that day passes nothing is lost and after it no window holds the
// reserve. A window that may well be lost is leant on only where no other holds, or where the others ask
// for no lot because the stock carries past them. Nil where none holds.
func (p *Problem) deciding(reserveDay []int) *Order {
	var sure, doubtful *Order
	for i := range p.Windows {
		o := p.orderFrom(i, reserveDay)
		switch {
		case o.By.Day < 0:
		case p.doubtful(o.Window):
			doubtful = p.better(o, doubtful)
		default:
			sure = p.better(o, sure)
		}
	}
	for _, o := range []*Order{sure, doubtful} {
		if o != nil {
			p.size(o, o.By.Day)
			if o.Lot.Least > 0 {
				return o
			}
		}
	}
	if sure != nil {
		return sure
	}
	return doubtful
}

// better gives the better of two orders that hold, of which one may be nil: not the last window, since
// its lot has none to carry to; of doubtful windows the one less likely to be lost; then the later
// order day, and of two alike the later window.
func (p *Problem) better(o, than *Order) *Order {
	switch {
	case than == nil:
		return o
	case p.isLast(o) != p.isLast(than):
		if p.isLast(o) {
			return than
		}
	case p.doubtful(o.Window) && o.Window.LossChance != than.Window.LossChance:
		if o.Window.LossChance > than.Window.LossChance {
			return than
		}
	case o.By.Day < than.By.Day:
		return than
	}
	return o
}

// isLast tells that no window follows the order's.
func (p *Problem) isLast(o *Order) bool { return o.index == len(p.Windows)-1 && !o.Window.AllYear }

func (p *Problem) orderFrom(i int, reserveDay []int) *Order {
	w := &p.Windows[i]
	o := &Order{Window: w, index: i}
	o.Reserve, o.Shuts, o.Late = p.guards(w, reserveDay)
	o.By = earliest(o.Reserve, &o.Shuts, o.Late)
	o.due = o.By.Day
	return o
}

// nextWindow is the first window that an order placed today reaches on more than half of the paths.
func (p *Problem) nextWindow() (*Window, int) {
	for i := range p.Windows {
		w := &p.Windows[i]
		if w.OrderBy != nil && *w.OrderBy < 0 {
			continue
		}
		reached := 0
		for s := range w.Opens {
			if w.Arrival(s, 0) != Never {
				reached++
			}
		}
		if 2*reached > len(w.Opens) {
			return w, i
		}
	}
	return nil, 0
}

// mustLastUntil is the late end of the window's opening plus slip, or of lead time and slip where the
// window is open already, at the risk target.
func (p *Problem) mustLastUntil(w *Window) *calendar.Day {
	var arrivals []float64
	for s := range w.Opens {
		if day := w.Arrival(s, 0); day != Never {
			arrivals = append(arrivals, float64(day))
		}
	}
	if arrivals == nil {
		return nil
	}
	return p.date(int(upperBound(arrivals, p.Risk).value))
}

// cover gives the median days until the coming outflow has used up the stock in hand, and until it
// has used up what is above the reserve.
func (p *Problem) cover() (toEmpty, toReserve *int) {
	bare := *p
	bare.Receipts = nil
	n := p.Burn.Count()
	empty := quantile(perPath(n, bare.firstDry), 0.5)
	reserve := quantile(perPath(n, func(s int) int { return bare.firstBelow(s, 0, p.Horizon) }), 0.5)
	return within(empty), within(reserve)
}

func within(day int) *int {
	if day == Never {
		return nil
	}
	return &day
}

func (p *Problem) dates(days []int) Dates {
	return Dates{p.date(quantile(days, 0.1)), p.date(quantile(days, 0.5)), p.date(quantile(days, 0.9))}
}

// date turns a day index into a date, nil for a day beyond the horizon.
func (p *Problem) date(day int) *calendar.Day {
	if day == Never {
		return nil
	}
	d := p.AsOf + calendar.Day(day)
	return &d
}

func (p *Problem) orderNotices(o *Order) notice.List {
	var l notice.List
	if o == nil {
		return l
	}
	if lost := o.Window.LossChance; p.doubtful(o.Window) {
		severity := notice.Caution
		if lost > p.Risk {
			severity = notice.Serious
		}
		l.Add(notice.New(severity, "window-may-fail", o.Window.Route,
			"the window %s is lost with %.1f %% probability: no lot from it alone holds the risk target of %.3g %%; keep a fallback ready",
			o.Window.Name, 100*lost, 100*p.Risk))
	}
	if o.Lot.Cut {
		l.Add(notice.New(notice.Caution, "horizon-cut", o.Window.Route,
			"the lot is reckoned to the end of the %d days looked at: no later window is in sight on many paths", p.Horizon))
	}
	if o.Lot.After != nil {
		l.Add(notice.New(notice.Serious, "lot-clipped", o.Window.Route,
			"the lot is kept to %.0f kL by %s: before the following window delivers, %.0f kL may be missing from %s on",
			o.Lot.Lot/1000, o.Lot.Limit, o.Lot.After.Litres/1000, o.Lot.After.From))
	}
	return l
}
