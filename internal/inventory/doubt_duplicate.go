package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
)

// sameVolume is the share by which two entries of one volume may differ, in one unit and another. Common
// practice, no source.
const sameVolume = 0.001

// doubtDuplicates names rows that are there already under another key. Of two the first in order of time and key
// stands.
func (b *Book) doubtDuplicates() {
	again(b, b.rows.Deliveries, b.sameDelivery)
	again(b, b.rows.Transfers, func(x, y *Transfer) bool {
		return x.At.Equal(y.At) && x.From == y.From && x.To == y.To && alike(x.Measure, y.Measure)
	})
	again(b, b.rows.Draws, func(x, y *Draw) bool {
		// Two vehicles may well be filled alike on one day.
		told := x.LastDay > x.FirstDay || x.With != ""
		return told && x.FirstDay == y.FirstDay && x.LastDay == y.LastDay && x.Purpose == y.Purpose && x.With == y.With && alike(x.Measure, y.Measure)
	})
	again(b, b.rows.Totals, func(x, y *PeriodTotal) bool { return x.FirstDay == y.FirstDay && x.LastDay == y.LastDay })
}

// sameDelivery tells two entries of one document and day, or where neither names a document, of one moment. A
// delivery that was split names its tanks or has its parts' volumes.
func (b *Book) sameDelivery(x, y *Delivery) bool {
	if x.Tank != y.Tank || x.Document != y.Document || !alike(x.Measure, y.Measure) {
		return false
	}
	if x.Document == "" {
		return x.At.Equal(y.At)
	}
	return calendar.DayOf(x.At, b.Zone) == calendar.DayOf(y.At, b.Zone)
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
			b.doubt(r, Doubt{
				At: b.momentOf(r), Cause: Duplicate, Subject: "plant " + b.Plant.ID + ", " + plural(r.Kind()),
				Message: "the " + string(r.Kind()) + " of " + b.day(b.momentOf(r)) + " under the key " + r.Base().Key + ": " + causeWords[Duplicate] +
					", " + rows[j].Base().Key + todo(WholeRow, ""),
			})
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
