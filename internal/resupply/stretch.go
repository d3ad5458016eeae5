package resupply

import "math"

// breaks are the days on which something arrives on a path or the tanks change, in order. Between two of them the
// stock only falls, since nothing but burn and draws happens: what it lacks is greatest on the last day, and what
// there is room for least on the first, so that the days between need not be looked at.
type breaks []int

// breaks lists those after one day up to another, both of arrivals of orders on their way and of what else comes.
func (p *Problem) breaks(path, from, to int, more ...delivery) breaks {
	var all breaks
	add := func(day int) {
		if day > from && day <= to {
			all = all.with(day)
		}
	}
	for i := range p.Receipts {
		add(p.Receipts[i].Day[path])
	}
	for _, c := range p.Capacity {
		add(c.FromDay)
	}
	for _, d := range more {
		add(d.day)
	}
	return all
}

// with adds a day in its place.
func (b breaks) with(day int) breaks {
	b = append(b, day)
	for i := len(b) - 1; i > 0 && b[i-1] > b[i]; i-- {
		b[i-1], b[i] = b[i], b[i-1]
	}
	return b
}

// after is the first break after a day, math.MaxInt where there is none.
func (b breaks) after(day int) int {
	for _, at := range b {
		if at > day {
			return at
		}
	}
	return math.MaxInt
}

// stretches calls for each run of days from one to another, both included, in which nothing arrives and the tanks are
// the same, until it is told that this is enough.
func (p *Problem) stretches(path, from, to int, more []delivery, enough func(first, last int) bool) {
	all := p.breaks(path, from, to, more...)
	for first := from; first <= to; {
		last := min(all.after(first)-1, to)
		if enough(first, last) {
			return
		}
		first = last + 1
	}
}

// firstDay is the first day of a run for which something holds that holds for its last day and from some day on.
func firstDay(first, last int, holds func(day int) bool) int {
	for first < last {
		middle := (first + last) / 2
		if holds(middle) {
			last = middle
		} else {
			first = middle + 1
		}
	}
	return first
}
