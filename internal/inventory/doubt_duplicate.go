package inventory

import (
	"math"
	"time"
)

// sameVolume is the share by which two entries of one volume may differ, in one unit and another. Common
// practice, no source.
const sameVolume = 0.001

// doubtDuplicates names transfers, draws and totals that are there already under another key. Of two the first in order of
// time and key stands.
func (b *Book) doubtDuplicates() {
	again(b, b.rows.Transfers, func(x, y *Transfer) bool {
		return x.At.Equal(y.At) && x.From == y.From && x.To == y.To && alike(x.Measure, y.Measure)
	})
	again(b, b.rows.Draws, func(x, y *Draw) bool {
		// Two vehicles may well be filled alike on one day.
		told := x.LastDay > x.FirstDay || x.With != ""
		return told && x.FirstDay == y.FirstDay && x.LastDay == y.LastDay && x.Purpose == y.Purpose && x.With == y.With && alike(x.Measure, y.Measure)
	})
	again(b, b.rows.Totals, func(x, y *PeriodTotal) bool {
		return x.FirstDay == y.FirstDay && x.LastDay == y.LastDay && y.LastDay <= b.AsOf
	})
}

func alike(x, y Measure) bool {
	return x.Basis == y.Basis && math.Abs(float64(x.Volume-y.Volume)) <= sameVolume*math.Abs(float64(x.Volume))
}

// again doubts each row that an earlier one of its neighbourhood says already; rows are in order of time.
func again[T Record](b *Book, rows []T, same func(x, y T) bool) {
	for i, r := range rows {
		if b.momentOf(r).Compare(b.close()) >= 0 {
			continue
		}
		for j := i - 1; j >= 0 && b.momentOf(r).Sub(b.momentOf(rows[j])) <= 24*time.Hour; j-- {
			if b.leftOut[rows[j]] || !same(rows[j], r) {
				continue
			}
			b.doubtAgain(r, rows[j])
			break
		}
	}
}

// momentOf gives when a row that may be doubted was, or began.
func (b *Book) momentOf(r Record) time.Time {
	switch r := r.(type) {
	case *Delivery:
		return r.At
	case *Transfer:
		return r.At
	case *Draw:
		return b.start(r.FirstDay)
	case *PeriodTotal:
		return b.start(r.FirstDay)
	}
	return time.Time{}
}
