package resupply

import (
	"cmp"
	"math"
	"slices"
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
		for _, i := range p.byArrival(s, order) { // those that come later have taken nothing yet
			r := &p.Receipts[i]
			t := r.Day[s]
			if t > p.Horizon {
				r.taken[s] = r.Litres
				continue
			}
			r.taken[s] = min(r.Litres, math.Max(0, p.roomAt(s, t)))
		}
	}
}

// byArrival puts the receipts in the order in which they arrive on a path.
func (p *Problem) byArrival(path int, order []int) []int {
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Receipts[a].Day[path], p.Receipts[b].Day[path]) })
	return order
}

// roomAt is what the tanks can take on a day on a path before the day's outflow; below 0 they hold more than they should.
func (p *Problem) roomAt(path, day int, more ...delivery) float64 {
	before := p.stock(path, day, more...)
	if day > 0 {
		before += p.outflow(path, day-1, day)
	}
	return p.capacity(day) - before
}

// on gives the litres that the tanks take of a receipt on a path.
func (r *Receipt) on(path int) float64 {
	if r.taken == nil {
		return r.Litres
	}
	return r.taken[path]
}
