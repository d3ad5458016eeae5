package advice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// Overfull is an order on its way that is more likely than not to find too little room on arrival. The litres that have
// room and the balance are its litres together: the projection has the first alone, and open_orders has both.
type Overfull struct {
	Order   string  `json:"order"`
	Litres  float64 `json:"litres_l15"`
	RoomP10 float64 `json:"room_p10_l15"` // of its litres, those that have room
	RoomP50 float64 `json:"room_p50_l15"`
	RoomP90 float64 `json:"room_p90_l15"`
	Balance float64 `json:"balance_l15"` // what has none, at the median
	// BalanceMinor is the balance at the price of the order's route, in hundredths of Currency; nil where that is not known.
	BalanceMinor *int64       `json:"balance_minor"`
	Currency     *string      `json:"currency"`
	Arrives      calendar.Day `json:"arrives_p50"`
	RoomForAll   RoomDates    `json:"room_for_all_on"`
	Choices      []Choice     `json:"choices"`
}

// RoomDates is when there is room for the whole of an order: the median, and the day by which there is at all but the risk
// target. Nil is beyond the horizon.
type RoomDates struct {
	P50    *calendar.Day `json:"p50"`
	AtRisk *calendar.Day `json:"at_risk"`
}

// Choice is what may become of a balance.
type Choice struct {
	Choice  ChoiceKind    `json:"choice"`
	On      *calendar.Day `json:"on"` // from when it helps; nil where nobody can say, or at once
	Message string        `json:"message"`
}

// ChoiceKind says what kind of choice it is.
type ChoiceKind string

// The choices, in the order in which they are given.
const (
	LoadLess    ChoiceKind = "load-less"
	LeaveAboard ChoiceKind = "leave-aboard"
	LaterWindow ChoiceKind = "later-window"
	TankBack    ChoiceKind = "tank-back"
)

// ChoiceKinds lists the kinds of choices.
func ChoiceKinds() []ChoiceKind { return []ChoiceKind{LoadLess, LeaveAboard, LaterWindow, TankBack} }

func (r *run) overfull(a Plant, book *inventory.Book, open []inventory.OpenOrder, found []resupply.Overfull) []Overfull {
	var all []Overfull
	for _, f := range found {
		o := open[slices.IndexFunc(open, func(o inventory.OpenOrder) bool { return o.ID == f.Order })]
		out := Overfull{
			Order: f.Order, Litres: f.Litres, RoomP10: f.RoomP10, RoomP50: f.RoomP50, RoomP90: f.RoomP90, Balance: f.Balance,
			Arrives: f.Arrives, RoomForAll: RoomDates{f.RoomForAll, f.RoomForAllAtRisk}, Choices: []Choice{},
		}
		if route := r.dir.Route(o.Route); route != nil && route.PricePerLitre > 0 {
			minor := int64(math.Round(100 * f.Balance * route.PricePerLitre))
			out.BalanceMinor, out.Currency = &minor, &route.Currency
		}
		for _, more := range [][]Choice{r.loadLess(o, f), r.leaveAboard(a, o, f), laterWindow(a, f), tanksBack(r.dir.TanksOf(a.Plant), book, f)} {
			out.Choices = append(out.Choices, more...)
		}
		all = append(all, out)
	}
	return all
}

// loadLess is for an order that is not aboard yet.
func (r *run) loadLess(o inventory.OpenOrder, f resupply.Overfull) []Choice {
	if o.State.Means() != inventory.Ordered {
		return nil
	}
	return []Choice{{LoadLess, nil, fmt.Sprintf("it is not loaded yet: agree with the supplier to load %.0f kL less, and restate the order", f.Balance/1000)}}
}

// mostNamed is how many plants of a route are named.
const mostNamed = 4

// leaveAboard is for a route that serves other plants as well, or may call again.
func (r *run) leaveAboard(a Plant, o inventory.OpenOrder, f resupply.Overfull) []Choice {
	var others []string
	for _, p := range r.plants {
		if p.ID != a.Plant && slices.ContainsFunc(r.dir.RoutesOf(p.ID), func(s *inventory.Route) bool { return s.ID == o.Route }) {
			others = append(others, p.Name)
		}
	}
	message := fmt.Sprintf("leave %.0f kL aboard, if the carrier can call again later", f.Balance/1000)
	if n := len(others); n > 0 {
		more := ""
		if n > mostNamed {
			others, more = others[:mostNamed], fmt.Sprintf(" and %d more", n-mostNamed)
		}
		message = fmt.Sprintf("leave %.0f kL aboard for a later stop of route %s, which also serves %s%s, or for a second call here",
			f.Balance/1000, o.Route, strings.Join(others, ", "), more)
	}
	return []Choice{{LeaveAboard, f.RoomForAll, message}}
}

// laterWindow is the first stretch in which a route can deliver once there is room.
func laterWindow(a Plant, f resupply.Overfull) []Choice {
	if f.RoomForAll == nil {
		return nil
	}
	for _, w := range a.Windows {
		if on := max(w.Opens.P50, *f.RoomForAll); on <= w.Closes.P50 {
			name := "route " + w.Route
			if w.Window != "" {
				name = "the window " + w.Window + " of " + name
			}
			return []Choice{{LaterWindow, &on, fmt.Sprintf("have the balance brought by %s: from about %s on there is likely to be room for all of it", name, on)}}
		}
	}
	return nil
}

// tanksBack names the tanks that are out of service when the order arrives.
func tanksBack(tanks []*inventory.Tank, book *inventory.Book, f resupply.Overfull) []Choice {
	var all []Choice
	for _, t := range tanks {
		switch {
		case t.Role == inventory.DayTank || t.Available(f.Arrives) || !slices.Contains(book.Tanks, t):
		case t.BackOn == nil:
			all = append(all, Choice{TankBack, nil, fmt.Sprintf("tank %s is out of service and no day is stated on which it is back: in service it would give room", t.ID)})
		default:
			all = append(all, Choice{TankBack, t.BackOn, fmt.Sprintf("tank %s is out of service until %s: back earlier it would give room", t.ID, t.BackOn)})
		}
	}
	return all
}

// clearances gives the clearances of a plant's orders as they are shown.
func clearances(all []inventory.StandingClearance) []inventory.OrderClearanceState {
	var out []inventory.OrderClearanceState
	for _, s := range all {
		out = append(out, s.Stated())
	}
	return out
}
