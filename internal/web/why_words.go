package web

import (
	"math"
	"strconv"
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
	case resupply.WindowOpening:
		return "the window opens"
	}
	return lotEventInWords(e)
}

// lotEventInWords puts an event of the paths that decide the lot.
func lotEventInWords(e resupply.Event) string {
	switch e.Kind {
	case resupply.LotOrdered:
		return "the lot is ordered"
	case resupply.LowestBefore:
		return "farthest below the reserve before the lot"
	case resupply.FallbackKept:
		return "a fallback has kept the reserve until now"
	case resupply.LotArrives:
		return "the lot arrives, its own litres left out"
	case resupply.MostMissing:
		return "most is missing before the delivery after it"
	case resupply.FollowingArrives:
		return "the delivery after it can come"
	case resupply.DayBefore:
		return "the day before"
	case resupply.LeastRoom:
		return "least room for the lot"
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
	for _, say := range []func() string{w.dates, w.today, w.then, w.lot, w.cause} {
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
	case resupply.SoonestFrom:
		return w.day() + ": the window may open; ordered too late to be there then, the fuel would come after that of an order placed today"
	case resupply.DueToday:
		return "that day has passed: order today, " + w.day()
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

// then says what the need and the room are made of.
func (w stepOf) then() string {
	switch w.Kind {
	case resupply.NothingArrives:
		return "on no path does the " + w.brings() + " come within the time looked at, so no lot can be worked out"
	case resupply.FollowingOn:
		return w.day() + ": the delivery after it can come"
	case resupply.NoneFollows:
		return "no delivery after it can come until the last day looked at, " + w.day()
	case resupply.ReserveThen:
		return w.day() + ": reserve " + w.litres()
	case resupply.StockThen:
		return w.day() + ": less the stock without the lot, " + w.litres()
	case resupply.TanksHold:
		return w.day() + ": the tanks hold " + w.litres()
	case resupply.HeldBefore:
		return w.day() + ": less what is in them before that day’s burn and draws, " + w.litres()
	case resupply.MissingThen:
		return "so " + w.litres() + " are missing"
	case resupply.FreeThen:
		return "so there is room for " + w.litres()
	}
	return ""
}

// limit writes a step as the route states it, to the millilitre where that is no whole litre.
func (w stepOf) limit() string {
	text := strconv.FormatFloat(math.Round(1000**w.Limit)/1000, 'f', -1, 64)
	_, fraction, broken := strings.Cut(text, ".")
	if text = whole(math.Floor(*w.Limit + 0.0005)); broken {
		text += "." + fraction
	}
	return text + joint + "L"
}

// after says the lot that a limit leaves; advice that was issued before does not.
func (w stepOf) after() string {
	if w.Lot == nil {
		return ""
	}
	return ": lot " + whole(float64(*w.Lot)) + joint + "L"
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
		return "on arrival there is room for " + w.litres() + " at the risk target, for fuel as warm as it may get" + w.after()
	case resupply.RouteLeast:
		return "the route brings at least " + w.litres() + " at a time" + w.after()
	case resupply.RouteStep:
		return "the route brings whole steps of " + w.limit() + w.after()
	case resupply.RouteMost:
		return "the route brings at most " + w.litres() + " at a time" + w.after()
	case resupply.WindowMost:
		return "on the days on which it may arrive a lot is at most " + w.litres() + " at the risk target" + w.after()
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
