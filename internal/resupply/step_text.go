package resupply

import (
	"fmt"
	"math"
	"strconv"
)

// Text says the step in English, "" for a kind that there is not.
func (s Step) Text() string {
	for _, say := range []func(Step) string{Step.dateText, Step.todayText, Step.thenText, Step.lotText, Step.causeText} {
		if text := say(s); text != "" {
			return text
		}
	}
	return ""
}

// dateText says how the stock goes, and the subtraction from there to the day of the order.
func (s Step) dateText() string {
	switch s.Kind {
	case ReserveHolds:
		return fmt.Sprintf("on all but the accepted %.3g %% of paths the stock stays above the reserve to the end of the horizon", 100**s.Risk)
	case ReserveFalls:
		return fmt.Sprintf("%s: the stock falls below the reserve", s.Day)
	case ClosesAfter:
		return fmt.Sprintf("%s: the last day before the window %s closes", s.Day, s.Window)
	case DeadlineIs:
		return fmt.Sprintf("%s: the supplier's own order deadline for %s", s.Day, s.Window)
	case LessSlip:
		return fmt.Sprintf("less %s slip: %s", s.days(), s.Day)
	case LessLead:
		return fmt.Sprintf("less %s lead time: order by %s", s.days(), s.Day)
	case TogetherLater:
		return fmt.Sprintf("over all paths together order by %s: until then it comes as early as an order placed today", s.Day)
	case SoonestFrom:
		return fmt.Sprintf("%s: the window %s opens; ordered later than it takes to be there then, the fuel would come after that of an order placed today", s.Day, s.Window)
	case DueToday:
		return fmt.Sprintf("that day has passed: order today, %s", s.Day)
	}
	return ""
}

// todayText says what an order placed today would bring.
func (s Step) todayText() string {
	switch s.Kind {
	case OpensOn:
		return fmt.Sprintf("%s: the window %s opens", s.Day, s.Window)
	case LeadFromToday:
		return fmt.Sprintf("ordered today, %s lead time: %s", s.days(), s.Day)
	case ArrivesWithSlip:
		return fmt.Sprintf("plus %s slip: the fuel arrives on %s", s.days(), s.Day)
	case BringsNothing:
		return fmt.Sprintf("on this path the window %s brings nothing", s.Window)
	case MissingOnPath:
		return fmt.Sprintf("on this path %d L are missing at the worst, on %s", *s.Litres, s.Day)
	case MissingAtRisk:
		return fmt.Sprintf("%d L cover the shortage at the risk target, on the paths that go worse as well", *s.Litres)
	case NoneReachable:
		return "no window can be reached any more within the horizon"
	}
	return ""
}

// thenText says what the need and the room are made of.
func (s Step) thenText() string {
	switch s.Kind {
	case NothingArrives:
		return s.window() + ": its fuel arrives on no path within the horizon, so no lot can be worked out"
	case FollowingOn:
		return fmt.Sprintf("%s: the following delivery can come", s.Day)
	case NoneFollows:
		return fmt.Sprintf("no following delivery can come until the end of the horizon, %s", s.Day)
	case ReserveThen:
		return fmt.Sprintf("%s: reserve %d L", s.Day, *s.Litres)
	case StockThen:
		return fmt.Sprintf("%s: less the stock without the lot, %d L", s.Day, *s.Litres)
	case TanksHold:
		return fmt.Sprintf("%s: the tanks hold %d L", s.Day, *s.Litres)
	case HeldBefore:
		return fmt.Sprintf("%s: less what is in them before the day's outflow, %d L", s.Day, *s.Litres)
	case MissingThen:
		return fmt.Sprintf("so %d L are missing", *s.Litres)
	case FreeThen:
		return fmt.Sprintf("so there is room for %d L", *s.Litres)
	}
	return ""
}

// lotText says how the lot follows from what is needed, what there is room for and what the route brings.
func (s Step) lotText() string {
	switch s.Kind {
	case NoLotNeeded:
		return "at the risk target the stock carries past this window to the following one: no lot is needed from it"
	case LeastFollowing:
		return fmt.Sprintf("at least %d L on arrival carry the plant to the following window at the risk target", *s.Litres)
	case LeastHorizon:
		return fmt.Sprintf("at least %d L on arrival carry the plant to the end of the horizon at the risk target: on many paths no following window is in sight", *s.Litres)
	case RoomThen:
		return fmt.Sprintf("on arrival there is room for %d L at the risk target, for fuel as warm as it may get", *s.Litres) + s.lotAfter()
	case RouteLeast:
		return fmt.Sprintf("the route brings at least %d L at a time", *s.Litres) + s.lotAfter()
	case RouteStep:
		return fmt.Sprintf("the route brings whole steps of %s L", s.limit()) + s.lotAfter()
	case RouteMost:
		return fmt.Sprintf("the route brings at most %d L at a time", *s.Litres) + s.lotAfter()
	case WindowMost:
		return fmt.Sprintf("on the days on which it may arrive a lot is at most %d L at the risk target", *s.Litres) + s.lotAfter()
	case LotAsNeeded:
		return fmt.Sprintf("lot %d L: what is needed", *s.Litres)
	case LotRaised:
		return fmt.Sprintf("lot %d L: what is needed, raised to the route's smallest lot and step", *s.Litres)
	case LotOfRoom:
		return fmt.Sprintf("lot %d L: room on arrival keeps it under what is needed", *s.Litres)
	case LotOfRoute:
		return fmt.Sprintf("lot %d L: the route's largest lot keeps it under what is needed", *s.Litres)
	case LotOfWindow:
		return fmt.Sprintf("lot %d L: what may come on the day of arrival keeps it under what is needed", *s.Litres)
	case LotUnfit:
		return fmt.Sprintf("lot %d L: there is no room for the route's smallest lot or step", *s.Litres)
	}
	return ""
}

// causeText says why no order from a window keeps the reserve.
func (s Step) causeText() string {
	switch s.Kind {
	case NoRoute:
		return "no route but a fallback serves the plant"
	case NeverOpens:
		return s.window() + ": does not open on any path"
	case DeadlinePassed:
		return fmt.Sprintf("%s: the supplier's own order deadline, %s, has passed", s.window(), s.Day)
	case ClosesTooSoon:
		return s.window() + ": it may close before its fuel can come, whenever that is ordered"
	case ClosingPassed:
		return fmt.Sprintf("%s: the last day to order before it may close, %s, has passed", s.window(), s.Day)
	case OpensTooLate:
		return s.window() + ": it may open too late: the reserve is reached before its fuel can come"
	case ReservePassed:
		return fmt.Sprintf("%s: the last day to order for the reserve, %s, has passed", s.window(), s.Day)
	}
	return ""
}

// limit writes a step as the route states it, to the millilitre: so many gallons are no whole litres.
func (s Step) limit() string {
	return strconv.FormatFloat(math.Round(1000**s.Limit)/1000, 'f', -1, 64)
}

// lotAfter says the lot after a limit; advice that was issued before does not.
func (s Step) lotAfter() string {
	if s.Lot == nil {
		return ""
	}
	return fmt.Sprintf(": lot %d L", *s.Lot)
}

func (s Step) days() string {
	if *s.Days == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", *s.Days)
}

// window names the window by its route, and by its opening where it has one.
func (s Step) window() string {
	name := s.Route + " " + s.Window
	if s.Opening != nil {
		name += " from " + s.Opening.String()
	}
	return name
}
