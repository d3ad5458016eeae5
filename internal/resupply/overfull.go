package resupply

import (
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// Overfull is an order on its way that is more likely than not to find too little room on arrival. Its litres are
// those that have room and the balance: the first alone are in the tanks, the second nowhere until somebody says.
type Overfull struct {
	Order  string
	Litres float64
	// Of its litres, those that have room on arrival, over the paths on which it arrives.
	RoomP10, RoomP50, RoomP90 float64
	Balance                   float64 // Litres less RoomP50
	// Arrives is the median day of arrival. RoomForAll is the first day from then on with room for the balance of each path as
	// well, those of orders that arrived before it in the tanks: the median, and the day by which there is room at all but the
	// risk. Nil is beyond the horizon.
	Arrives          calendar.Day
	RoomForAll       *calendar.Day
	RoomForAllAtRisk *calendar.Day
}

// overfull finds the orders on their way that are more likely than not to find too little room.
func (p *Problem) overfull() []Overfull {
	var found []Overfull
	var free [][]int // worked out when first asked for
	for i := range p.Receipts {
		r := &p.Receipts[i]
		var taken []float64
		var arrives, days []int
		for s, t := range r.Day {
			if t <= p.Horizon {
				taken, arrives = append(taken, r.on(s)), append(arrives, t)
			}
		}
		slices.Sort(taken)
		if n := len(taken); n == 0 || taken[n/2] >= r.Litres {
			continue
		}
		if free == nil {
			free = p.roomForAll()
		}
		for s, t := range r.Day {
			if t <= p.Horizon {
				days = append(days, free[i][s])
			}
		}
		n := len(taken)
		o := Overfull{
			Order: r.Order, Litres: r.Litres, RoomP10: taken[rank(n, 0.1)], RoomP50: taken[n/2], RoomP90: taken[rank(n, 0.9)],
			Arrives: p.AsOf + calendar.Day(quantile(arrives, 0.5)), RoomForAll: p.date(quantile(days, 0.5)),
			RoomForAllAtRisk: p.date(int(upperBound(perPath(n, func(i int) float64 { return float64(days[i]) }), p.Risk).value)),
		}
		o.Balance = o.Litres - o.RoomP50
		found = append(found, o)
	}
	return found
}

// roomForAll gives for each receipt and path the first day from its arrival on with room for the whole of it. Balances come
// into the tanks in the order in which their orders arrived, so that no room is given twice.
func (p *Problem) roomForAll() [][]int {
	free := perPath(len(p.Receipts), func(i int) []int { return make([]int, len(p.Receipts[i].Day)) })
	order := make([]int, len(p.Receipts))
	for s := range p.Receipts[0].Day {
		var before []delivery // balances that came into the tanks
		for _, i := range p.byArrival(s, order) {
			r := &p.Receipts[i]
			rest := r.Litres - r.on(s)
			if rest <= 0 {
				free[i][s] = r.Day[s]
				continue
			}
			from := r.Day[s]
			if n := len(before); n > 0 {
				from = max(from, before[n-1].day)
			}
			free[i][s] = p.firstWithRoom(s, from, rest, before)
			before = append(before, delivery{rest, free[i][s]})
		}
	}
	return free
}

// firstWithRoom is the first day from one on with room for so many litres.
func (p *Problem) firstWithRoom(path, from int, litres float64, before []delivery) int {
	for t := from; t <= p.Horizon; t++ {
		if p.roomAt(path, t, before...) >= litres {
			return t
		}
	}
	return Never
}

// overfullNotices names the orders that find too little room.
func overfullNotices(all []Overfull) notice.List {
	var l notice.List
	for _, o := range all {
		l.Add(notice.New(notice.Serious, "order-overfull", "order "+o.Order,
			"on arrival there is likely to be room for only %.0f of its %.0f kL: the rest is not counted on", o.RoomP50/1000, o.Litres/1000))
	}
	return l
}
