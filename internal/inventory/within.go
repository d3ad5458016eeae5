package inventory

import (
	"slices"
	"sort"
	"time"

	"overwinter/internal/calendar"
)

// drawsOn gives the draws that have a day between two, both included. Draws are in order of their first day.
func (b *Book) drawsOn(first, last calendar.Day) []*Draw {
	from := first - b.longestDraw()
	low, _ := slices.BinarySearchFunc(b.rows.Draws, from, func(d *Draw, day calendar.Day) int { return int(d.FirstDay - day) })
	var found []*Draw
	for _, d := range b.rows.Draws[low:] {
		if d.FirstDay > last {
			break
		}
		if d.LastDay >= first {
			found = append(found, d)
		}
	}
	return found
}

// longestDraw is how many days the longest draw goes on for, found once.
func (b *Book) longestDraw() calendar.Day {
	if b.longest == 0 {
		b.longest = 1
		for _, d := range b.rows.Draws {
			b.longest = max(b.longest, d.LastDay-d.FirstDay+1)
		}
	}
	return b.longest
}

// deliveriesWithin gives the deliveries after one moment and until another. They are in order of time.
func (b *Book) deliveriesWithin(after, until time.Time) []*Delivery {
	return within(b.rows.Deliveries, after, until, func(d *Delivery) time.Time { return d.At })
}

// transfersWithin is deliveriesWithin for transfers.
func (b *Book) transfersWithin(after, until time.Time) []*Transfer {
	return within(b.rows.Transfers, after, until, func(t *Transfer) time.Time { return t.At })
}

func within[T any](all []T, after, until time.Time, when func(T) time.Time) []T {
	low := firstAfter(all, after, when)
	return all[low : low+firstAfter(all[low:], until, when)]
}

// firstAfter gives the index of the first item after a moment, and how many there are where none is. Items are in order of time.
func firstAfter[T any](all []T, at time.Time, when func(T) time.Time) int {
	return sort.Search(len(all), func(i int) bool { return when(all[i]).After(at) })
}
