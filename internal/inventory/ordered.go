package inventory

import (
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Ordered is an order with the whole of what was ordered, whatever has come of it since.
type Ordered struct {
	*Order
	Litres units.LitresAt15
}

// OrderedBetween gives the orders that were placed from one day to another, both included, and by the close of the
// as-of day. Cancelled ones are left out: of them the ledger keeps no other state.
func (b *Book) OrderedBetween(from, until calendar.Day, notes *notice.List) []Ordered {
	var all []Ordered
	for _, o := range b.rows.Orders {
		if o.State != Cancelled && o.OrderedOn >= from && o.OrderedOn <= min(until, b.AsOf) {
			all = append(all, Ordered{o, units.LitresAt15(b.at15(o.Measure, "orders", notes))})
		}
	}
	return all
}
