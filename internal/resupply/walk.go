package resupply

import "math"

// A walk along a path is in whole litres, so that what is printed is what was decided on. What has cumulated
// since the as-of day is rounded, not each day, so that rounding does not pile up.

// whole rounds litres.
func whole(litres float64) float64 { return math.RoundToEven(litres) } // one instruction, which Round is not

// delivery is a lot that arrives on a path's own day.
type delivery struct {
	litres float64
	day    int
}

// stock gives the usable stock at the close of a day on a path, with the open orders that have
// arrived and any further deliveries. It falls below zero by what could not be served.
func (p *Problem) stock(path, day int, more ...delivery) float64 {
	return p.supply(path, day, more...) - p.out(path, day)
}

// supply is the stock at the close of the as-of day with all that has arrived by the close of a day.
func (p *Problem) supply(path, day int, more ...delivery) float64 {
	s := whole(p.Stock[path])
	for i := range p.Receipts {
		if p.Receipts[i].Day[path] <= day {
			s += whole(p.Receipts[i].on(path))
		}
	}
	for _, d := range more {
		if d.day <= day {
			s += d.litres
		}
	}
	return s
}

// out is all that has gone out by the close of a day.
func (p *Problem) out(path, day int) float64 { return p.burned(path, day) + p.drawn(day) }

func (p *Problem) burned(path, day int) float64 { return whole(p.Burn.Cumulative(path, day)) }

func (p *Problem) drawn(day int) float64 {
	if p.Draws == nil {
		return 0
	}
	return whole(p.Draws[day])
}

// outflow gives burn and draws between the closes of two days.
func (p *Problem) outflow(path, from, to int) float64 {
	return p.out(path, to) - p.out(path, from)
}

// reserve gives the reserve at the close of a day on a path; in days it moves with the coming outflow, as a share
// with the tanks in service.
func (p *Problem) reserve(path, day int) float64 {
	switch {
	case p.Reserve.Days > 0:
		return p.outflow(path, day, day+p.Reserve.Days)
	case p.Reserve.Share > 0:
		return whole(p.Reserve.Share * p.capacity(day))
	}
	return whole(p.Reserve.Litres)
}

// gap gives what the stock lacks of the reserve at the close of a day, below 0 what it has above it. With a
// reserve in days, what has gone out by the day cancels.
func (p *Problem) gap(path, day int, more ...delivery) float64 {
	if p.Reserve.Days > 0 {
		return p.out(path, day+p.Reserve.Days) - p.supply(path, day, more...)
	}
	return p.reserve(path, day) - p.stock(path, day, more...)
}

// firstBelow gives the first day from one day to another, both included, whose close finds the stock
// under the reserve, or Never.
func (p *Problem) firstBelow(path, from, to int, more ...delivery) int {
	found := Never
	p.stretches(path, from, to, more, func(first, last int) bool {
		if p.gap(path, last, more...) > 0 {
			found = firstDay(first, last, func(t int) bool { return p.gap(path, t, more...) > 0 })
		}
		return found != Never
	})
	return found
}

// firstDry gives the first day whose close finds no usable stock, or Never.
func (p *Problem) firstDry(path int) int {
	found := Never
	p.stretches(path, 0, p.Horizon, nil, func(first, last int) bool {
		if p.stock(path, last) <= 0 {
			found = firstDay(first, last, func(t int) bool { return p.stock(path, t) <= 0 })
		}
		return found != Never
	})
	return found
}

// shortage gives the most litres by which stock falls under the reserve from one day to before
// another, and the first day on which it does; negative litres are what is left over at the tightest.
func (p *Problem) shortage(path, from, before int, more ...delivery) (litres float64, day int) {
	day = from
	litres = p.gap(path, from, more...)
	p.stretches(path, from, min(before-1, p.Horizon), more, func(first, last int) bool {
		if most := p.gap(path, last, more...); most > litres {
			litres, day = most, firstDay(first, last, func(t int) bool { return p.gap(path, t, more...) >= most })
		}
		return false
	})
	return litres, day
}

// capacity gives what the available tanks hold on a day, in litres that fit whole.
func (p *Problem) capacity(day int) float64 {
	held := 0.0
	for _, c := range p.Capacity {
		if c.FromDay <= day {
			held = c.Litres
		}
	}
	return math.Floor(held)
}

// perPath makes one value a path.
func perPath[T any](n int, value func(path int) T) []T {
	values := make([]T, n)
	for s := range values {
		values[s] = value(s)
	}
	return values
}
