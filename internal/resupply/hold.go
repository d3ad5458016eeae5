package resupply

import (
	"cmp"
	"math"
	"slices"

	"overwinter/internal/notice"
)

// hold keeps from each receipt what finds no room on arrival: it is not in the tanks, so it is not counted
// on. The room is that before the day's outflow. Where no capacity is stated there is no limit.
func (p *Problem) hold() {
	if len(p.Capacity) == 0 || len(p.Receipts) == 0 {
		return
	}
	for i := range p.Receipts {
		p.Receipts[i].taken = make([]float64, len(p.Receipts[i].Day))
	}
	order := make([]int, len(p.Receipts))
	for s := range p.Receipts[0].Day {
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Receipts[a].Day[s], p.Receipts[b].Day[s]) })
		for _, i := range order { // those that come later have taken nothing yet
			r := &p.Receipts[i]
			t := r.Day[s]
			if t > p.Horizon {
				r.taken[s] = r.Litres
				continue
			}
			before := p.stock(s, t)
			if t > 0 {
				before += p.outflow(s, t-1, t)
			}
			r.taken[s] = min(r.Litres, math.Max(0, p.capacity(t)-before))
		}
	}
}

// on gives the litres that the tanks take of a receipt on a path.
func (r *Receipt) on(path int) float64 {
	if r.taken == nil {
		return r.Litres
	}
	return r.taken[path]
}

// overfull names the orders on their way that are more likely than not to find too little room.
func (p *Problem) overfull() notice.List {
	var l notice.List
	for i := range p.Receipts {
		r := &p.Receipts[i]
		taken := perPath(len(r.Day), r.on)
		slices.Sort(taken)
		if median := taken[len(taken)/2]; median < r.Litres {
			l.Add(notice.New(notice.Serious, "order-overfull", "order "+r.Order,
				"on arrival there is likely to be room for only %.0f of its %.0f kL: the rest is not counted on", median/1000, r.Litres/1000))
		}
	}
	return l
}
