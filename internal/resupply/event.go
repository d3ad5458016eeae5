package resupply

import "strings"

// EventKind names what happens on a day of a path.
type EventKind string

// The kinds of event.
const (
	StockNow      EventKind = "stock-now"
	MonthEnds     EventKind = "month-ends"
	OrderArrives  EventKind = "order-arrives" // one that is on its way
	LastOrderDay  EventKind = "order-by"
	WindowClosing EventKind = "window-closes"
	LastDayAbove  EventKind = "last-day-above-reserve"
	BelowReserve  EventKind = "below-reserve"
	FarthestBelow EventKind = "farthest-below-reserve" // before fuel ordered today can come
	TodayArrives  EventKind = "ordered-today-arrives"
	HorizonEnds   EventKind = "horizon-ends"
	WindowOpening EventKind = "window-opens"

	LotOrdered       EventKind = "lot-ordered"
	LowestBefore     EventKind = "lowest-before-lot"     // the gap that a fallback closes by the arrival
	FallbackKept     EventKind = "fallback-kept-reserve" // what it brought is in what was received
	LotArrives       EventKind = "lot-arrives"           // its own litres are left out
	MostMissing      EventKind = "most-missing"          // before the following delivery
	FollowingArrives EventKind = "following-arrives"
	DayBefore        EventKind = "day-before-least-room"
	LeastRoom        EventKind = "least-room"
)

// EventKinds lists every kind of event.
func EventKinds() []EventKind {
	return []EventKind{
		StockNow, MonthEnds, OrderArrives, LastOrderDay, WindowClosing, LastDayAbove, BelowReserve, FarthestBelow, TodayArrives, HorizonEnds, WindowOpening,
		LotOrdered, LowestBefore, FallbackKept, LotArrives, MostMissing, FollowingArrives, DayBefore, LeastRoom,
	}
}

// Event is what happens on a day of a path.
type Event struct {
	Kind  EventKind `json:"code"`
	Order string    `json:"order,omitempty"` // id of the order that arrives
}

// Text says it in English, "" for a kind that there is not.
func (e Event) Text() string {
	switch e.Kind {
	case StockNow:
		return "stock now"
	case MonthEnds:
		return "month ends"
	case OrderArrives:
		return "order " + e.Order + " arrives"
	case LastOrderDay:
		return "order by"
	case WindowClosing:
		return "window closes"
	case LastDayAbove:
		return "last day above the reserve"
	case BelowReserve:
		return "below the reserve"
	case FarthestBelow:
		return "farthest below the reserve before fuel ordered today can come"
	case TodayArrives:
		return "an order placed today arrives"
	case HorizonEnds:
		return "end of the horizon"
	case WindowOpening:
		return "window opens"
	}
	return e.lotText()
}

// lotText says what happens on the paths that decide the lot.
func (e Event) lotText() string {
	switch e.Kind {
	case LotOrdered:
		return "the lot is ordered"
	case LowestBefore:
		return "farthest below the reserve before the lot"
	case FallbackKept:
		return "a fallback has kept the reserve until now"
	case LotArrives:
		return "the lot arrives: its own litres are left out"
	case MostMissing:
		return "the most is missing before the following delivery"
	case FollowingArrives:
		return "the following delivery can come"
	case DayBefore:
		return "the day before"
	case LeastRoom:
		return "the least room for the lot"
	}
	return ""
}

// Text says in English what happens on the line's day.
func (l Line) Text() string {
	said := make([]string, len(l.Events))
	for i, e := range l.Events {
		said[i] = e.Text()
	}
	return strings.Join(said, "; ")
}
