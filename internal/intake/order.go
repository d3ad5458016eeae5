package intake

import (
	"context"
	"slices"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Order writes fuel ordered for a plant.
func (d *Desk) Order(ctx context.Context, o Order) (Receipt, error) {
	s, err := d.open(ctx, "order", o.Report)
	if err != nil {
		return Receipt{}, err
	}
	row := &inventory.Order{
		Entry: s.entry(rowKey("order", o.Plant, o.Key)), Measure: o.Measure,
		Plant: o.Plant, ID: o.ID, Route: o.Route, State: o.State,
		OrderedOn: o.OrderedOn, Early: o.Early, Likely: o.Likely, Late: o.Late,
	}
	s.add(row, orderField)
	if o.State == inventory.Received || o.State == inventory.Cancelled {
		s.refuse("state", "a new order is %s or %s: enter it as it was placed, then change its state to %s",
			inventory.Committed, inventory.InTransit, o.State)
	}
	if o.Route != "" && s.dir.Route(o.Route) != nil && !slices.Contains(s.dir.RoutesOf(o.Plant), s.dir.Route(o.Route)) {
		s.refuse("route", "the route %q does not serve plant %s: choose one that does, or leave it blank", o.Route, o.Plant)
	}
	if err := s.idIsFree(ctx, row); err != nil {
		return Receipt{}, err
	}
	done, err := s.write(ctx)
	if err != nil {
		return Receipt{}, err
	}
	var notes notice.List
	notes.Add(row.Doubts(s.dir)...)
	return s.receipt(ctx, done, notes, time.Time{}), nil
}

// orderField turns a column of an order's row into a field of the report.
func orderField(column string) string {
	if column == "order" {
		return "id"
	}
	return column
}

// idIsFree refuses a second order under an id that is in use.
func (s *sheet) idIsFree(ctx context.Context, row *inventory.Order) error {
	there, err := s.orderInForce(ctx, row.ID)
	if err != nil || there == nil || there.Key == row.Key || s.cameBefore(ctx) {
		return err
	}
	return fault.New(fault.Conflict, "plant %s has an order %q already: nothing was written. Change that order, or give the new one another id", s.Plant, row.ID)
}

// orderInForce finds an order of the plant as it stands now, nil if there is none.
func (s *sheet) orderInForce(ctx context.Context, id string) (*inventory.Order, error) {
	rows, err := s.Ledger.RecentRows(ctx, s.Plant, s.now, s.now) // orders are given whatever their dates are
	if err != nil {
		return nil, err
	}
	return findOrder(rows.Orders, id), nil
}

func findOrder(orders []*inventory.Order, id string) *inventory.Order {
	i := slices.IndexFunc(orders, func(o *inventory.Order) bool { return o.ID == id })
	if i < 0 {
		return nil
	}
	return orders[i]
}

// ChangeOrder writes a row that stands in the place of the order's row in force. Any state may follow
// any other, since a wrong entry must be mendable; an unusual step raises a notice. A key is unique among
// the changes of one order.
func (d *Desk) ChangeOrder(ctx context.Context, c OrderChange) (Receipt, error) {
	s, err := d.open(ctx, "change of the order", c.Report)
	if err != nil {
		return Receipt{}, err
	}
	before, err := s.orderInForce(ctx, c.ID)
	if err != nil {
		return Receipt{}, err
	}
	if before == nil {
		return Receipt{}, fault.New(fault.NotFound, "plant %s has no order %q: check its id, or enter the order first", c.Plant, c.ID)
	}
	stem := rowKey("order-change", c.Plant, c.ID, c.Key, "")
	key := stem + c.content()
	if before.Key == key {
		return s.receipt(ctx, inventory.Recorded{Known: 1}, nil, time.Time{}), nil
	}
	after := c.apply(before, s.entry(key))
	s.add(after, orderField)
	if err := s.invalid(); err != nil {
		return Receipt{}, err
	}
	if strings.HasPrefix(before.Key, stem) || strings.HasPrefix(before.Replaces, stem) && before.Replaces != key {
		return Receipt{}, s.taken(nil)
	}
	done, err := s.Ledger.Record(ctx, s.rows, s.now)
	if fault.KindOf(err) == fault.Conflict {
		done, err = s.settle(ctx, after, err)
	}
	if err != nil {
		return Receipt{}, err
	}
	notes, err := s.changeDoubts(ctx, before, after)
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, notes, time.Time{}), nil
}

// content writes down what the change asks for. It is part of the row's key: the row itself holds the
// whole order as it stood then, so it cannot be compared with a change that comes again later.
func (c OrderChange) content() string {
	parts := []string{string(c.State)}
	for _, day := range []*calendar.Day{c.Early, c.Likely, c.Late} {
		if day == nil {
			parts = append(parts, "as-before")
		} else {
			parts = append(parts, day.String())
		}
	}
	return strings.Join(parts, "/")
}

// apply gives the order as it is after the change.
func (c OrderChange) apply(before *inventory.Order, e inventory.Entry) *inventory.Order {
	after := *before
	after.Entry = e
	after.Replaces, after.Why = before.Key, c.Why
	after.State = c.State
	for _, day := range []struct{ to, from *calendar.Day }{{&after.Early, c.Early}, {&after.Likely, c.Likely}, {&after.Late, c.Late}} {
		if day.from != nil {
			*day.to = *day.from
		}
	}
	return &after
}

// settle tells a change that has come before from one that lost a race. The ledger refuses both: the key
// of the first is there and replaces another row; the row that the second replaces is replaced already.
func (s *sheet) settle(ctx context.Context, after *inventory.Order, cause error) (inventory.Recorded, error) {
	known := inventory.Recorded{Known: 1}
	now, err := s.orderInForce(ctx, after.ID)
	for err == nil && now != nil {
		if now.Key == after.Key {
			return known, nil
		}
		again := *after
		again.Replaces = now.Key
		_, refused := s.Ledger.Rehearse(ctx, inventory.Rows{Orders: []*inventory.Order{&again}}, s.now)
		if refused == nil {
			break // the key is not there: the change itself came too late
		}
		if fault.KindOf(refused) != fault.Conflict {
			return inventory.Recorded{}, refused
		}
		tried := now.Key
		if now, err = s.orderInForce(ctx, after.ID); err == nil && now != nil && now.Key == tried {
			return known, nil // nothing but the key itself can have been in the way
		}
	}
	if err != nil {
		return inventory.Recorded{}, err
	}
	return inventory.Recorded{}, fault.Wrap(fault.Conflict, cause,
		"order %s was changed by somebody else at the same moment: nothing was written. Look at the order again and send the change anew", after.ID)
}
