package intake

import (
	"context"
	"fmt"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Clear writes how a clearance of an order stands. What is left out stays as it was; a key is unique among the reports on
// clearances of one order. The error is fault.NotFound where there is no such order.
func (d *Desk) Clear(ctx context.Context, c Clearance) (Receipt, error) {
	key := rowKey("clearance", c.Plant, c.Order, c.Key)
	s, err := d.open(ctx, "clearance", key, c.Report)
	if err != nil {
		return Receipt{}, err
	}
	s.id.Content = c.content()
	rows, err := s.Ledger.RecentRows(ctx, s.Plant, s.now, s.now) // orders and clearances are given whatever their dates are
	if err != nil {
		return Receipt{}, err
	}
	if findOrder(rows.Orders, c.Order) == nil {
		return Receipt{}, fault.New(fault.NotFound, "plant %s has no order %q: check its id, or enter the order first", c.Plant, c.Order)
	}
	s.add(c.row(rows.Clearances, s.entry(key)), asIs)
	// First this: what stands may be of this very report, which it cannot replace.
	if known, err := s.cameBefore(ctx); err != nil {
		return Receipt{}, err
	} else if known {
		return s.receipt(ctx, inventory.Recorded{Known: 1}, nil), nil
	}
	done, err := s.write(ctx)
	if rivals(err) {
		err = fault.Wrap(fault.Conflict, err,
			"the clearance %q of order %s was changed by somebody else at the same moment: nothing was written. Look at it again and send the report anew", c.Name, c.Order)
	}
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, nil), nil
}

// content writes down what the report asks for: its row holds what was said before as well.
func (c Clearance) content() string {
	parts := []string{c.Name, c.By, c.Note, c.Why}
	for _, day := range []*calendar.Day{c.LastSafeOn, c.ClearedOn} {
		parts = append(parts, optional(day))
	}
	return contentOf(append(parts, optional(c.TakesDays)))
}

// optional writes a value that may be left out.
func optional[T any](v *T) string {
	if v == nil {
		return "as-before"
	}
	return fmt.Sprint(*v)
}

// row gives the clearance as it is after the report.
func (c Clearance) row(all []*inventory.Clearance, e inventory.Entry) *inventory.Clearance {
	after := inventory.Clearance{Plant: c.Plant, Order: c.Order, Name: c.Name}
	if i := slices.IndexFunc(all, func(b *inventory.Clearance) bool { return b.Order == c.Order && b.Name == c.Name }); i >= 0 {
		after = *all[i]
		e.Replaces = all[i].Key
	}
	after.Entry = e
	if c.LastSafeOn != nil {
		after.LastSafeOn = c.LastSafeOn
	}
	if c.TakesDays != nil {
		after.TakesDays = c.TakesDays
	}
	if c.ClearedOn != nil {
		after.ClearedOn = c.ClearedOn
	}
	if c.By != "" {
		after.By = c.By
	}
	if c.Note != "" {
		after.Note = c.Note
	}
	return &after
}
