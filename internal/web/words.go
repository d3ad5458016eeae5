package web

import (
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// byUrgency lists the states of a plant, the most urgent first, as advice orders plants.
var byUrgency = []resupply.Status{resupply.Short, resupply.OrderNow, resupply.Unknown, resupply.OrderSoon, resupply.InHand}

// needsAct tells that a person must act on a plant now.
func needsAct(status resupply.Status) bool {
	return status == resupply.Short || status == resupply.OrderNow
}

// delivery names what brings an order: the early summer barge, the winter road.
func delivery(p advice.Plant, route, window string) string {
	name := plain(window)
	for _, w := range p.Windows {
		if w.Route != route {
			continue
		}
		mode := plain(w.Mode)
		switch {
		case w.AllYear || name == "" || strings.Contains(mode, name):
			return mode
		case w.Window == window:
			return name + " " + mode
		}
	}
	if name == "" {
		return "route " + plain(route)
	}
	return name + " window"
}

// lotSpan says what to order: the least to the most, or the lot alone where no least fits.
func lotSpan(o *advice.Order) string {
	if o.Least > o.Most || o.Least <= 0 {
		return kL(o.Lot)
	}
	return kLSpan(o.Least, o.Most)
}

// lotDetail says under a status what to order.
func lotDetail(o *advice.Order) string {
	switch {
	case o.Lot <= 0 && o.Least > 0:
		return "no lot fits: " + kL(o.Least) + " needed"
	case o.Lot <= 0:
		return "no lot needed from it"
	case o.Least > o.Most:
		return "lot " + kilolitres(o.Lot) + " of " + kL(o.Least) + " needed"
	case kilolitres(o.Least) == kilolitres(o.Most):
		return "lot " + kL(o.Lot)
	}
	return "least " + kilolitres(o.Least) + ", most " + kL(o.Most)
}

// codeOverfull is the notice that an order on its way is not likely to find room for all of it.
const codeOverfull = "order-overfull"

// overfull counts the orders on their way that are not likely to find room.
func overfull(p advice.Plant) int {
	n := 0
	for _, o := range p.Notices {
		if o.Code == codeOverfull {
			n++
		}
	}
	return n
}

// weighty counts the notices that weaken an answer or want acting on.
func weighty(p advice.Plant) int {
	n := 0
	for _, o := range p.Notices {
		if o.Severity != notice.Info {
			n++
		}
	}
	return n
}

// nextDeadline is the window whose supplier takes orders for the shortest time still, nil where none has a
// deadline to come.
func nextDeadline(p advice.Plant) *advice.Window {
	var next *advice.Window
	for i := range p.Windows {
		w := &p.Windows[i]
		if w.Deadline != nil && *w.Deadline >= p.AsOf && (next == nil || *w.Deadline < *next.Deadline) {
			next = w
		}
	}
	return next
}

// missing says how much is short, and from when.
func missing(s *advice.Shortage, asOf calendar.Day) string {
	return kL(s.Litres) + " short from " + shortDay(s.From, asOf)
}

// loads says what a fallback would take.
func loads(l advice.FallbackLoad) string {
	return count(l.Loads, "load", "loads") + " by " + plain(l.Mode)
}

// quickest is the first fallback that comes in time, or else the first.
func quickest(all []advice.FallbackLoad) *advice.FallbackLoad {
	for i := range all {
		if all[i].InTime {
			return &all[i]
		}
	}
	if len(all) > 0 {
		return &all[0]
	}
	return nil
}

// reachedSpan says when the reserve is reached, p10 to p90.
func reachedSpan(p advice.Plant) string {
	r := p.ReserveDate
	switch {
	case p.Status == resupply.Unknown:
		return none
	case r.P10 == nil:
		return "beyond " + horizonText(p)
	case r.P90 == nil:
		return shortDay(*r.P10, p.AsOf) + " or later"
	}
	return shortSpan(*r.P10, *r.P90, p.AsOf)
}

// horizonText names the last day looked at.
func horizonText(p advice.Plant) string {
	if end, ok := lastDay(p); ok {
		return shortDay(end, p.AsOf)
	}
	return "the time looked at"
}

// lastDay is the last day of a plant's projection.
func lastDay(p advice.Plant) (calendar.Day, bool) {
	if p.Projection == nil || len(p.Projection.P50) == 0 {
		return 0, false
	}
	return p.Projection.From + calendar.Day((len(p.Projection.P50)-1)*p.Projection.Step), true
}

// silence says why a plant is unknown.
func silence(p advice.Plant) string {
	switch age, ok := readingAge(p); {
	case !ok:
		return "never read"
	case !p.Stock.Known:
		return "no reading good enough for " + days(max(age, 0))
	}
	return "consumption not known"
}

// readingAge is the age of a plant's newest reading in days; false where it was never read.
func readingAge(p advice.Plant) (int, bool) {
	if p.Stock.Newest == nil {
		return 0, false
	}
	return int(p.AsOf - calendar.DayOf(*p.Stock.Newest, zoneOf(p))), true
}
