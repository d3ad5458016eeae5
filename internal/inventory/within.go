package inventory

import (
	"slices"
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
	all := b.rows.Deliveries
	low, _ := slices.BinarySearchFunc(all, after, func(d *Delivery, at time.Time) int {
		if d.At.After(at) {
			return 1
		}
		return -1
	})
	high := low
	for high < len(all) && !all[high].At.After(until) {
		high++
	}
	return all[low:high]
}
