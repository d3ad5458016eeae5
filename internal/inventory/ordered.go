package inventory

import (
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Placed is an order with the whole of what was ordered, whatever has come of it since.
type Placed struct {
	*Order
	Litres units.LitresAt15
}

// OrderedBetween gives the orders that were placed from one day to another, both included, and by the close of the
// as-of day. Cancelled ones are left out, and those that are only proposed or cleared.
func (b *Book) OrderedBetween(from, until calendar.Day, notes *notice.List) []Placed {
	var all []Placed
	for _, o := range b.rows.Orders {
		if o.State.placed() && o.OrderedOn >= from && o.OrderedOn <= min(until, b.AsOf) {
			all = append(all, Placed{o, units.LitresAt15(b.at15(o.Measure, "orders", notes))})
		}
	}
	return all
}

// placed tells that the order was given to a supplier and stands.
func (s OrderState) placed() bool {
	switch s.Means() {
	case Proposed, Cleared, Cancelled:
		return false
	}
	return true
}
