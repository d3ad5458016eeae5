package inventory

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// inOrder gives the rows in order of time, then key, so that the order in which they came never shows. Movements of one moment
// are in order of what they say before that of their keys: a correction that is taken back has another key and restores every
// word. Slices that are in order stay as they are; others are copied.
func (r Rows) inOrder() Rows {
	r.Readings = ordered(r.Readings, func(x *MeterReading) time.Time { return x.At })
	r.Swaps = ordered(r.Swaps, func(x *MeterSwap) time.Time { return x.At })
	r.Gaugings = ordered(r.Gaugings, func(x *Gauging) time.Time { return x.At })
	r.Deliveries = sortedBy(r.Deliveries, (*Delivery).compare)
	r.Transfers = sortedBy(r.Transfers, (*Transfer).compare)
	r.Rounds = ordered(r.Rounds, func(x *Round) time.Time { return x.At })
	r.Totals = ordered(r.Totals, func(x *PeriodTotal) time.Time { return time.Unix(int64(x.FirstDay), int64(x.LastDay-x.FirstDay)) })
	r.Draws = ordered(r.Draws, func(x *Draw) time.Time { return time.Unix(int64(x.FirstDay), int64(x.LastDay-x.FirstDay)) })
	r.Orders = sortedBy(r.Orders, func(x, y *Order) int { return cmp.Compare(x.OrderedOn, y.OrderedOn) })
	return r
}

func (d *Delivery) compare(o *Delivery) int {
	return cmp.Or(d.At.Compare(o.At), strings.Compare(d.Tank, o.Tank), strings.Compare(d.Document, o.Document), strings.Compare(d.Order, o.Order),
		strings.Compare(string(d.Product), string(o.Product)), d.Measure.compare(o.Measure))
}

func (t *Transfer) compare(o *Transfer) int {
	return cmp.Or(t.At.Compare(o.At), strings.Compare(t.From, o.From), strings.Compare(t.To, o.To), t.Measure.compare(o.Measure))
}

func (m Measure) compare(o Measure) int {
	return cmp.Or(cmp.Compare(m.Volume, o.Volume), strings.Compare(string(m.Basis), string(o.Basis)),
		cmp.Compare(orElse(m.Temperature, -273), orElse(o.Temperature, -273)))
}

func ordered[T Record](rows []T, at func(T) time.Time) []T {
	return sortedBy(rows, func(x, y T) int { return at(x).Compare(at(y)) })
}

// sortedBy puts rows in an order, and those that are alike in it in order of their keys.
func sortedBy[T Record](rows []T, of func(x, y T) int) []T {
	compare := keyed(of)
	if slices.IsSortedFunc(rows, compare) {
		return rows
	}
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, compare)
	return rows
}

// keyed is an order with that of the keys for rows that are alike in it.
func keyed[T Record](of func(x, y T) int) func(x, y T) int {
	return func(x, y T) int { return cmp.Or(of(x, y), strings.Compare(x.Base().Key, y.Base().Key)) }
}
