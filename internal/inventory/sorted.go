package inventory

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// inOrder gives the rows in order of time, then key, so that the order in which they came never shows. Slices
// that are in order stay as they are; others are copied.
func (r Rows) inOrder() Rows {
	r.Readings = ordered(r.Readings, func(x *MeterReading) time.Time { return x.At })
	r.Swaps = ordered(r.Swaps, func(x *MeterSwap) time.Time { return x.At })
	r.Gaugings = ordered(r.Gaugings, func(x *Gauging) time.Time { return x.At })
	r.Deliveries = ordered(r.Deliveries, func(x *Delivery) time.Time { return x.At })
	r.Transfers = ordered(r.Transfers, func(x *Transfer) time.Time { return x.At })
	r.Rounds = ordered(r.Rounds, func(x *Round) time.Time { return x.At })
	r.Totals = ordered(r.Totals, func(x *PeriodTotal) time.Time { return time.Unix(int64(x.FirstDay), int64(x.LastDay-x.FirstDay)) })
	r.Draws = ordered(r.Draws, func(x *Draw) time.Time { return time.Unix(int64(x.FirstDay), int64(x.LastDay-x.FirstDay)) })
	return r
}

func ordered[T Record](rows []T, at func(T) time.Time) []T {
	compare := func(x, y T) int {
		return cmp.Or(at(x).Compare(at(y)), strings.Compare(x.Base().Key, y.Base().Key))
	}
	if slices.IsSortedFunc(rows, compare) {
		return rows
	}
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, compare)
	return rows
}
