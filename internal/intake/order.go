package intake

import (
	"context"
	"errors"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Order writes fuel ordered for a plant.
func (d *Desk) Order(ctx context.Context, o Order) (Receipt, error) {
	key := rowKey("order", o.Plant, o.Key)
	s, err := d.open(ctx, "order", key, o.Report)
	if err != nil {
		return Receipt{}, err
	}
	row := &inventory.Order{
		Entry: s.entry(key), Measure: o.Measure,
		Plant: o.Plant, ID: o.ID, Route: o.Route, State: o.State, StateAt: s.maybeMoment(o.StateAt), OrderBy: o.OrderBy,
		OrderedOn: o.OrderedOn, Early: o.Early, Likely: o.Likely, Late: o.Late,
	}
	s.add(row, orderField)
	if o.State.Over() {
		s.refuse("state", "a new order is %s, %s, %s, %s or %s: enter it as it was placed, then change its state to %s",
			inventory.Proposed, inventory.Cleared, inventory.Ordered, inventory.Loaded, inventory.InTransit, o.State)
	}
	if o.Route != "" && s.dir.Route(o.Route) != nil && !slices.Contains(s.dir.RoutesOf(o.Plant), s.dir.Route(o.Route)) {
		s.refuse("route", "the route %q does not serve plant %s: choose one that does, or leave it blank", o.Route, o.Plant)
	}
	if err := s.idIsFree(ctx, row); err != nil {
		return Receipt{}, err
	}
	done, err := s.write(ctx)
	if rivals(err) {
		err = s.idInUse(row, err)
	}
	if err != nil {
		return Receipt{}, err
	}
	var notes notice.List
	notes.Add(row.Doubts(s.dir)...)
	return s.receipt(ctx, done, notes), nil
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
	if err != nil || there == nil {
		return err
	}
	if known, err := s.cameBefore(ctx); known || err != nil {
		return err
	}
	return s.idInUse(row, nil)
}

func (s *sheet) idInUse(row *inventory.Order, cause error) error {
	return fault.Wrap(fault.Conflict, cause, "plant %s has an order %q already: nothing was written. Change that order, or give the new one another id", s.Plant, row.ID)
}

// rivals tells whether a report was refused for what another one wrote meanwhile.
func rivals(err error) bool {
	return err != nil && fault.KindOf(err) == fault.Conflict && !errors.Is(err, inventory.ErrKeyTaken)
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
	key := rowKey("order-change", c.Plant, c.ID, c.Key)
	s, err := d.open(ctx, "change of the order", key, c.Report)
	if err != nil {
		return Receipt{}, err
	}
	s.id.Content = c.content()
	before, err := s.orderInForce(ctx, c.ID)
	if err != nil {
		return Receipt{}, err
	}
	if before == nil {
		return Receipt{}, fault.New(fault.NotFound, "plant %s has no order %q: check its id, or enter the order first", c.Plant, c.ID)
	}
	after := s.apply(c, before, s.entry(key))
	s.add(after, orderField)
	// First this: the order as it stands may be of this very change, which it cannot replace.
	if known, err := s.cameBefore(ctx); err != nil {
		return Receipt{}, err
	} else if known {
		return s.receipt(ctx, inventory.Recorded{Known: 1}, nil), nil
	}
	done, err := s.write(ctx)
	if rivals(err) {
		err = fault.Wrap(fault.Conflict, err,
			"order %s was changed by somebody else at the same moment: nothing was written. Look at the order again and send the change anew", c.ID)
	}
	if err != nil {
		return Receipt{}, err
	}
	notes, err := s.changeDoubts(ctx, before, after)
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, notes), nil
}

// content writes down what the change asks for: its row holds the whole order as it stood then, so the row
// cannot be compared with a change that comes again later.
func (c OrderChange) content() string {
	parts := []string{string(c.State), c.Why}
	for _, day := range []*calendar.Day{c.Early, c.Likely, c.Late} {
		parts = append(parts, optional(day))
	}
	if c.StateAt != nil {
		parts = append(parts, "state-at", c.StateAt.UTC().Format(time.RFC3339Nano))
	}
	if c.OrderBy != nil {
		parts = append(parts, "order-by", c.OrderBy.String())
	}
	return contentOf(parts)
}

// apply gives the order as it is after the change. An order that is placed by it was ordered on that day.
func (s *sheet) apply(c OrderChange, before *inventory.Order, e inventory.Entry) *inventory.Order {
	after := *before
	after.Entry = e
	after.Replaces = before.Key
	after.State = c.State
	switch {
	case c.StateAt != nil:
		after.StateAt = s.maybeMoment(c.StateAt)
	case c.State.Means() != before.State.Means():
		after.StateAt = s.maybeMoment(new(s.present()))
	}
	if before.State.Planned() && !c.State.Planned() && c.State != inventory.Cancelled {
		after.OrderedOn = calendar.DayOf(*after.StateAt, s.zone())
	}
	if c.OrderBy != nil {
		after.OrderBy = c.OrderBy
	}
	for _, day := range []struct{ to, from *calendar.Day }{{&after.Early, c.Early}, {&after.Likely, c.Likely}, {&after.Late, c.Late}} {
		if day.from != nil {
			*day.to = *day.from
		}
	}
	return &after
}
