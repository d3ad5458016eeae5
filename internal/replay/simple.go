package replay

import (
	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// fill orders every visit and fills the tanks at each.
type fill struct{}

func (fill) name() string { return "fill" }

func (fill) orders(v *view) []call { return v.each() }

func (fill) level(v *view, _ visit, _ calendar.Day) float64 { return v.plant.Usable }

// upTo orders every visit and fills up to the mean use until the next one, and a fifth more.
type upTo struct{}

func (upTo) name() string { return "upto" }

func (upTo) orders(v *view) []call { return v.each() }

const more = 1.2

func (upTo) level(v *view, of visit, day calendar.Day) float64 {
	return more * v.means.over(day, v.following(of, day))
}

// following is the mean date of the visit after one that arrives on a day: the window's next if it is likely to come before the
// closing, else the next window's first.
func (v *view) following(of visit, day calendar.Day) calendar.Day {
	following := day + 365
	for i := range v.outlooks {
		o := &v.outlooks[i]
		switch {
		case o.year == of.year:
			next := day + calendar.Day(v.s.Window.Apart)
			if of.nth+1 < v.s.Window.Deliveries && next <= v.asOf+calendar.Day(mean(o.Closes, o.Opens)) {
				return next
			}
		case o.year > of.year:
			return max(day, v.asOf+calendar.Day(mean(o.Opens, o.Opens)))
		}
	}
	return following
}

// mean gives the mean of the days on the paths on which the window opens.
func mean(days, opens []int) float64 {
	sum, n := 0.0, 0.0
	for p, day := range days {
		if opens[p] != resupply.Never {
			sum, n = sum+float64(day), n+1
		}
	}
	return sum / n
}
