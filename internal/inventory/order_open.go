package inventory

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// OpenOrder is an order still to arrive, with its litres at 15 °C less what its deliveries have brought.
type OpenOrder struct {
	*Order
	Litres units.LitresAt15
}

// OpenOrders gives the orders that are placed and still to arrive. One delivered nearly whole is closed, whatever
// its state says. An order that has arrived counts by its deliveries alone.
func (b *Book) OpenOrders(notes *notice.List) []OpenOrder {
	var open []OpenOrder
	for _, o := range b.rows.Orders {
		if o.OrderedOn > b.AsOf {
			continue
		}
		if o.State.Arrived() {
			notes.Add(b.arrivedNotices(o)...)
		}
		if litres := b.expected(o, notes); litres > 0 {
			open = append(open, OpenOrder{Order: o, Litres: litres})
		}
	}
	return open
}

// PlannedOrders gives the orders that are not placed yet, with their litres at 15 °C: nothing counts on them.
func (b *Book) PlannedOrders(notes *notice.List) []OpenOrder {
	var planned []OpenOrder
	for _, o := range b.rows.Orders {
		if o.State.Planned() && o.OrderedOn <= b.AsOf {
			planned = append(planned, OpenOrder{Order: o, Litres: units.LitresAt15(b.at15(o.Measure, "orders", notes))})
		}
	}
	return planned
}

// expected is what an order is still to bring at the close of the as-of day.
func (b *Book) expected(o *Order, notes *notice.List) units.LitresAt15 {
	if !b.underWay(o) {
		return 0
	}
	ordered, came := b.at15(o.Measure, "orders", notes), b.deliveredFor(o, notes)
	if came < nearlyWhole*ordered {
		return units.LitresAt15(ordered - came)
	}
	if o.Open() {
		notes.Add(notice.New(notice.Caution, "order-not-closed", "order "+o.ID,
			"its deliveries have come and its state is still %s: it is not counted on any more", o.State.Means()))
	}
	return 0
}

// nearlyWhole is the share of an order that closes it: vessels and trucks seldom bring the ordered
// litres to the drop. Common practice, no source.
const nearlyWhole = 0.9

// underWay tells whether an order was still to arrive at the close of the as-of day. The rows in force hold
// its last state alone. Of one received since, the moment of that says so; where that is not stated, an
// expected arrival beyond the day does, as long as nothing of it had come.
func (b *Book) underWay(o *Order) bool {
	switch {
	case !o.State.Arrived():
		return o.Open()
	case o.StateAt != nil && o.StateAt.Before(b.close()):
		return false
	case o.State == Received && o.StateAt != nil:
		return true
	}
	return o.Early > b.AsOf && len(b.deliveriesFor(o)) == 0
}

// deliveriesFor gives the deliveries until the close of the as-of day that name an order, those that look wrong as well.
func (b *Book) deliveriesFor(o *Order) []*Delivery {
	var all []*Delivery
	for _, d := range b.bills {
		if d.Order == o.ID && d.At.Before(b.close()) {
			all = append(all, d)
		}
	}
	return all
}

func (b *Book) deliveredFor(o *Order, notes *notice.List) float64 {
	sum := 0.0
	for _, d := range b.rows.Deliveries {
		if d.Order == o.ID && d.At.Before(b.close()) {
			sum += b.at15(d.Measure, "deliveries", notes)
		}
	}
	for _, d := range b.doubtful {
		of, ok := d.row.(*Delivery)
		if !ok || of.Order != o.ID || d.Cause == Duplicate || d.Scope != WholeRow {
			continue
		}
		notes.Add(notice.New(notice.Caution, "order-doubtful", "order "+o.ID,
			"what came for it on %s looks wrong: until that is settled nothing more is counted on", b.day(of.At)))
		whole := b.at15(o.Measure, "orders", notes)
		if d.High != nil && *d.High > d.Low && d.Cause != BeyondRoom { // what it can have been at most by the dips
			return math.Min(whole, sum+*d.High)
		}
		return math.Max(sum, whole) // it may be the whole: what is not counted on cannot be missing
	}
	return sum
}

// toldFor is how many days after an order has arrived the advice still tells what its deliveries lack; its own
// history tells it for good. Common practice, no source.
const toldFor = 60

// arrivedNotices tells of an order that arrived lately what its deliveries lack.
func (b *Book) arrivedNotices(o *Order) notice.List {
	on := o.Late
	if o.StateAt != nil {
		on = calendar.DayOf(*o.StateAt, b.Zone)
	}
	if b.underWay(o) || b.AsOf-on > toldFor {
		return nil
	}
	return b.Lacking(o)
}

// settledWithin is how far what came may lie below what was ordered without a word, as a share: the tolerance that bulk
// goods have by the ICC's Uniform Customs and Practice for Documentary Credits (UCP 600), article 30 b. From memory.
const settledWithin = 0.05

// Lacking tells what an order that has arrived lacks: any delivery, or litres where it is closed.
func (b *Book) Lacking(o *Order) notice.List {
	if len(b.deliveriesFor(o)) == 0 {
		return notice.List{notice.New(notice.Caution, CodeOrderNotCome, "order "+o.ID,
			"it is %s and no delivery names it: enter the delivery, since the stock counts deliveries and gaugings only; until then none of its litres count", o.State)}
	}
	var ignored notice.List
	ordered, came := b.at15(o.Measure, "orders", &ignored), b.deliveredFor(o, &ignored)
	if o.State != Closed || came >= (1-settledWithin)*ordered {
		return nil
	}
	return notice.List{notice.New(notice.Info, CodeOrderClosedShort, "order "+o.ID,
		"it is closed, and its deliveries brought %s of %s at 15 °C: %s are missing and not counted on. If they are still to come, set it back to %s",
		amount(math.Round(came), "L"), amount(math.Round(ordered), "L"), amount(math.Round(ordered-came), "L"), InTransit)}
}

// FuelInTransit is what the orders on the way hold: a place where stock is, beside the tanks.
func FuelInTransit(open []OpenOrder) units.LitresAt15 {
	sum := units.LitresAt15(0)
	for _, o := range open {
		if o.State == InTransit {
			sum += o.Litres
		}
	}
	return sum
}
