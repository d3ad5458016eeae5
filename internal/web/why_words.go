package web

import (
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// eventsInWords says what happens on a line's day.
func eventsInWords(events []resupply.Event) string {
	said := make([]string, len(events))
	for i, e := range events {
		if said[i] = eventInWords(e); said[i] == "" {
			said[i] = e.Text()
		}
	}
	return capital(strings.Join(said, "; "))
}

// eventInWords puts an event as a coordinator would say it, "" where the pages have no words for its kind.
func eventInWords(e resupply.Event) string {
	switch e.Kind {
	case resupply.StockNow:
		return "stock now"
	case resupply.MonthEnds:
		return "month ends"
	case resupply.OrderArrives:
		return "order " + e.Order + " arrives"
	case resupply.LastOrderDay:
		return "last day to order"
	case resupply.WindowClosing:
		return "the window closes"
	case resupply.LastDayAbove:
		return "last day above the reserve"
	case resupply.BelowReserve:
		return "first day below the reserve"
	case resupply.FarthestBelow:
		return "farthest below the reserve before fuel can come"
	case resupply.TodayArrives:
		return "fuel ordered today would arrive"
	case resupply.HorizonEnds:
		return "last day looked at"
	}
	return ""
}

// stepInWords puts a step as a coordinator would say it.
func stepInWords(s resupply.Step, p advice.Plant) string {
	if text := wordsOf(s, p); text != "" {
		return text
	}
	return s.Text()
}

// wordsOf looks for the words of a step, "" where the pages have none for its kind.
func wordsOf(s resupply.Step, p advice.Plant) string {
	w := stepOf{s, p}
	for _, say := range []func() string{w.dates, w.today, w.lot, w.cause} {
		if text := say(); text != "" {
			return text
		}
	}
	return ""
}

// stepOf is a step of a plant's explanation, to be said with the days, numbers and names of its page. The
// values that a kind speaks of are there: an explanation without them is not read.
type stepOf struct {
	resupply.Step
	plant advice.Plant
}

func (w stepOf) day() string    { return longDay(*w.Day, w.plant.AsOf) }
func (w stepOf) days() string   { return days(*w.Days) }
func (w stepOf) litres() string { return whole(float64(*w.Litres)) + joint + "L" }
func (w stepOf) brings() string { return delivery(w.plant, w.Route, w.Window) }

// dates says how the stock goes, and the subtraction from there to the day of the order.
func (w stepOf) dates() string {
	switch w.Kind {
	case resupply.ReserveHolds:
		return "on all but the accepted " + percent(*w.Risk) + " of paths the stock stays above the reserve to the end of the time looked at"
	case resupply.ReserveFalls:
		return w.day() + ": the stock falls below the reserve"
	case resupply.ClosesAfter:
		return w.day() + ": the last day before the window closes"
	case resupply.DeadlineIs:
		return w.day() + ": the supplier’s own deadline for the " + w.brings()
	case resupply.LessSlip:
		return "less " + w.days() + " slip: " + w.day()
	case resupply.LessLead:
		return "less " + w.days() + " lead time: order by " + w.day()
	case resupply.TogetherLater:
		return "over all paths together order by " + w.day() + ": until then the fuel comes as early as if it were ordered today"
	}
	return ""
}

// today says what an order placed today would bring.
func (w stepOf) today() string {
	switch w.Kind {
	case resupply.OpensOn:
		return w.day() + ": the window of the " + w.brings() + " opens"
	case resupply.LeadFromToday:
		return "ordered today, " + w.days() + " lead time: " + w.day()
	case resupply.ArrivesWithSlip:
		return "plus " + w.days() + " slip: the fuel arrives on " + w.day()
	case resupply.BringsNothing:
		return "on this path nothing comes by " + w.brings()
	case resupply.MissingOnPath:
		return "on this path " + w.litres() + " are missing at the worst, on " + w.day()
	case resupply.MissingAtRisk:
		return w.litres() + " cover the shortage at the risk target, on the paths that go worse as well"
	case resupply.NoneReachable:
		return "no window can be reached any more within the time looked at"
	}
	return ""
}

// lot says how the lot follows from what is needed, what there is room for and what the route brings.
func (w stepOf) lot() string {
	switch w.Kind {
	case resupply.NoLotNeeded:
		return "at the risk target the stock carries past this window to the following one: no lot is needed from it"
	case resupply.LeastFollowing:
		return "at least " + w.litres() + " on arrival carry the plant to the following window at the risk target"
	case resupply.LeastHorizon:
		return "at least " + w.litres() + " on arrival carry the plant to the end of the time looked at, at the risk target: on many paths no following window is in sight"
	case resupply.RoomThen:
		return "on arrival there is room for " + w.litres() + " at the risk target, for fuel as warm as it may get"
	case resupply.RouteMost:
		return "the route brings at most " + w.litres() + " at a time"
	case resupply.WindowMost:
		return "on the days on which it may arrive a lot is at most " + w.litres() + " at the risk target"
	case resupply.LotAsNeeded:
		return "lot " + w.litres() + ": what is needed"
	case resupply.LotRaised:
		return "lot " + w.litres() + ": what is needed, raised to the route’s smallest lot and step"
	case resupply.LotOfRoom:
		return "lot " + w.litres() + ": the room on arrival keeps it under what is needed"
	case resupply.LotOfRoute:
		return "lot " + w.litres() + ": the route’s largest lot keeps it under what is needed"
	case resupply.LotOfWindow:
		return "lot " + w.litres() + ": what may come on the day of arrival keeps it under what is needed"
	case resupply.LotUnfit:
		return "lot " + w.litres() + ": there is no room for the route’s smallest lot or step"
	}
	return ""
}

// cause says why no order from a window keeps the reserve.
func (w stepOf) cause() string {
	name := w.brings()
	if w.Opening != nil {
		name += " from " + longDay(*w.Opening, w.plant.AsOf)
	}
	switch w.Kind {
	case resupply.NoRoute:
		return "no route but a fallback serves the plant"
	case resupply.NeverOpens:
		return name + ": its window opens on no path"
	case resupply.DeadlinePassed:
		return name + ": the supplier’s own deadline, " + w.day() + ", has passed"
	case resupply.ClosesTooSoon:
		return name + ": its window may close before the fuel can come, whenever that is ordered"
	case resupply.ClosingPassed:
		return name + ": the last day to order before its window may close, " + w.day() + ", has passed"
	case resupply.OpensTooLate:
		return name + ": its window may open too late: the reserve is reached before the fuel can come"
	case resupply.ReservePassed:
		return name + ": the last day to order for the reserve, " + w.day() + ", has passed"
	}
	return ""
}
