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
)

// EventKinds lists every kind of event.
func EventKinds() []EventKind {
	return []EventKind{
		StockNow, MonthEnds, OrderArrives, LastOrderDay, WindowClosing, LastDayAbove, BelowReserve, FarthestBelow, TodayArrives, HorizonEnds,
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
