package demo

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// lifeSince is the day from which on the whole life of an order is written down; before it, what became of it alone.
var lifeSince = AsOf - 300

// enterOrder writes the order of a delivery down as received. An order that comes in several loads is
// written down once, with the first.
func (s *site) enterOrder(order, route string, litres15 float64) {
	id := s.spec.plant.ID + "-" + order
	if s.orders[id] {
		return
	}
	s.orders[id] = true
	o := inventory.Order{
		Entry:   inventory.Entry{Key: "order/" + id},
		Measure: inventory.Measure{Volume: s.wholeVolume(litres15), Basis: inventory.Basis15},
		Plant:   s.spec.plant.ID, ID: id, Route: route, State: inventory.Received,
		OrderedOn: s.today - 60, Early: s.today - 6, Likely: s.today - 1, Late: s.today + 9,
	}
	if s.today < lifeSince {
		s.rows.Add(&o)
		return
	}
	for _, row := range s.lived(o) {
		s.rows.Add(row)
	}
}

// lived gives the rows of an order that was received today, from ordering to closing. It was expected a week earlier
// at first.
func (s *site) lived(received inventory.Order) []*inventory.Order {
	ordered := received
	ordered.State, ordered.Early, ordered.Likely, ordered.Late = inventory.Ordered, s.today-14, s.today-8, s.today+2
	s.inState(&ordered, s.today-60)
	rows := []*inventory.Order{&ordered}
	for _, step := range []struct {
		state inventory.OrderState
		on    calendar.Day
		as    inventory.Order
	}{
		{inventory.Loaded, s.today - 12, ordered}, {inventory.InTransit, s.today - 10, received},
		{inventory.Received, s.today, received}, {inventory.Closed, s.today + 20, received},
	} {
		if step.on > AsOf {
			break
		}
		row := s.next(rows[len(rows)-1], step.as, step.state, step.on)
		rows = append(rows, row)
	}
	return rows
}

// next is the row of an order that replaces the one before, with what another row says of dates and volume.
func (s *site) next(before *inventory.Order, as inventory.Order, state inventory.OrderState, on calendar.Day) *inventory.Order {
	as.Entry = inventory.Entry{Key: "order/" + as.ID + "/" + string(state), Replaces: before.Key, Who: "coordinator", Why: stepped[state]}
	as.State = state
	s.inState(&as, on)
	return &as
}

var stepped = map[inventory.OrderState]string{
	inventory.Loaded: "loading report of the supplier", inventory.InTransit: "has left", inventory.Received: "the delivery is entered",
	inventory.Closed: "agrees with the invoice",
}

// inState says that an order came into its state on a day, in the afternoon.
func (s *site) inState(o *inventory.Order, on calendar.Day) {
	start, _ := on.Bounds(s.zone)
	o.StateAt = new(start.Add(15 * time.Hour).UTC())
}

// openOrders writes down the orders still to arrive and draws what truly becomes of them.
func (s *site) openOrders() {
	last := map[string]*inventory.Order{} // by id: the row in force
	for _, o := range s.spec.orders {
		o.Plant, o.Basis = s.spec.plant.ID, inventory.Basis15
		if o.Key == "" {
			o.Key = "order/" + o.ID
		}
		s.rows.Add(o)
		last[o.ID] = o
	}
	for _, o := range s.spec.orders {
		if o == last[o.ID] && o.Open() {
			s.arrivals[o.ID] = Arrival{
				Day:    arrival(o, s.moving),
				Volume: units.LitresAt15(around(s.moving, float64(o.Volume), deliveryErrorShare)),
			}
		}
	}
	for _, c := range s.spec.clearances {
		c.Key, c.Plant = "clearance/"+c.Order+"/"+c.Name, s.spec.plant.ID
		s.rows.Add(c)
	}
}
