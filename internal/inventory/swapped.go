package inventory

import (
	"math"
	"slices"
	"time"
)

// findOldMeters tells of the readings at the very moment of a swap which are the old meter's last ones, and puts them before those
// of the new meter. It is the meter whose register is nearer: the old one's is its closing, or else that of the reading before,
// and the new one's its opening, or else that of the reading after. A register that the swap does not state is then the one read.
func (b *Book) findOldMeters() {
	b.ofOld = map[*MeterReading]bool{}
	for id, swaps := range b.swaps {
		readings := b.readings[id]
		for i, s := range swaps {
			first := firstAfter(readings, s.At.Add(-1), readingTime)
			next := firstAfter(readings, s.At, readingTime)
			closing, opening := s.Closing, s.Opening
			if closing == nil && first > 0 {
				closing = &readings[first-1].Register
			}
			if opening == nil && next < len(readings) {
				opening = &readings[next].Register
			}
			for _, r := range readings[first:next] {
				b.ofOld[r] = closing != nil && (opening == nil || math.Abs(r.Register-*closing) < math.Abs(r.Register-*opening))
				if first > 0 {
					swaps[i] = swaps[i].completed(r, b.ofOld[r])
				}
			}
			slices.SortStableFunc(readings[first:next], func(x, y *MeterReading) int { return b.meterAt(x) - b.meterAt(y) })
		}
	}
}

// completed is a swap with the register of a reading of its moment where it states none.
func (s *MeterSwap) completed(r *MeterReading, ofOld bool) *MeterSwap {
	with := *s
	switch {
	case ofOld && s.Closing == nil:
		with.Closing = &r.Register
	case !ofOld && s.Opening == nil:
		with.Opening = &r.Register
	default:
		return s
	}
	return &with
}

// meterAt is 0 for a reading of the old meter at the moment of a swap, and 1 for any other.
func (b *Book) meterAt(r *MeterReading) int {
	if b.ofOld[r] {
		return 0
	}
	return 1
}

func readingTime(r *MeterReading) time.Time { return r.At }

// swapsBetween gives the swaps of a meter from one of its readings to a later one.
func (b *Book) swapsBetween(m *Meter, before, now *MeterReading) []*MeterSwap {
	var found []*MeterSwap
	for _, s := range b.swaps[m.ID] {
		left := s.At.After(before.At) || b.ofOld[before] && s.At.Equal(before.At)
		reached := s.At.Before(now.At) || s.At.Equal(now.At) && !b.ofOld[now]
		if left && reached {
			found = append(found, s)
		}
	}
	return found
}
