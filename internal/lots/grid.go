package lots

import "math"

// largestGrid bounds the cells of a grid: beyond it the search is as fast.
const largestGrid = 1_000_000

// grid is a plant in which everything comes in steps, so that all sums are multiples of one unit: the best plan is found by dynamic
// programming over what has been delivered, interval by interval, exactly and in time that grows with the windows and the units.
type grid struct {
	*line
	unit  float64
	size  int     // sums from 0 to size−1 units
	lots  [][]int // for each window and sum after its lot, the steps taken
	flown [][]bool
	costs []float64 // of each sum so far; +Inf where it cannot be
}

// grid gives a plant's grid; nil where not everything comes in steps, limits bound several lots, or it would be too large.
func (l *line) grid() *grid {
	unit, most := 0.0, 0.0
	for w := range l.n {
		most = max(most, l.need[w])
	}
	beyond := 0.0
	add := func(step, least float64) bool {
		unit = divisor(unit, step)
		beyond = max(beyond, step, least)
		return step > 0 && unit > 0
	}
	for w := range l.n {
		if l.most[w] > 0 && !add(l.step[w], l.least[w]) || !math.IsInf(l.flyPrice[w], 1) && !add(l.load[w], 0) {
			return nil
		}
	}
	if unit == 0 || l.rows != nil {
		return nil
	}
	// The last source of a best plan could be left out or lowered by a step if the sum were higher than this.
	size := (most+beyond)/unit + 2
	if size*float64(l.n) > largestGrid {
		return nil
	}
	return &grid{line: l, unit: unit, size: int(size)}
}

// units counts the units of a multiple.
func (g *grid) units(x float64) int { return int(math.Round(x / g.unit)) }

// solve finds the best plan and gives its cost, +Inf where there is none.
func (g *grid) solve(plan *amounts) float64 {
	g.costs = make([]float64, g.size)
	for a := range g.costs {
		g.costs[a] = math.Inf(1)
	}
	g.costs[0] = 0
	for w := range g.n {
		g.lots = append(g.lots, make([]int, g.size))
		if g.most[w] > 0 {
			g.lot(w)
		}
		g.rule(func(sum float64) bool { return sum <= g.room[w]+g.unit*whole })
		g.flown = append(g.flown, make([]bool, g.size))
		if !math.IsInf(g.flyPrice[w], 1) {
			g.fly(w)
		}
		g.rule(func(sum float64) bool { return sum >= g.need[w]-g.unit*whole })
	}
	end := 0
	for a, c := range g.costs {
		if c < g.costs[end] {
			end = a
		}
	}
	if !math.IsInf(g.costs[end], 1) {
		g.trace(end, plan)
	}
	return g.costs[end]
}

// rule keeps only the sums that hold.
func (g *grid) rule(holds func(sum float64) bool) {
	for a := range g.costs {
		if !holds(float64(a) * g.unit) {
			g.costs[a] = math.Inf(1)
		}
	}
}

// lot lets a window's lot be taken. Sums that lie whole steps apart are looked at together: the best sum to come from lies between the largest and the least lot
// behind, a range that moves along, so that a queue of candidates, each dearer than the one before, gives it at once.
func (g *grid) lot(w int) {
	step := g.units(g.step[w])
	least, most := max(1, g.units(g.least[w])/step), g.units(g.most[w])/step
	after := make([]float64, g.size)
	copy(after, g.costs)
	queue, head := make([]int, 0, g.size/step+1), 0
	perUnit := g.lotPrice[w] * g.unit
	from := func(a int) float64 { return g.costs[a] - perUnit*float64(a) }
	for first := range min(step, g.size) {
		queue, head = queue[:0], 0
		for i := 0; first+i*step < g.size; i++ {
			if j := i - least; j >= 0 {
				a := first + j*step
				for len(queue) > head && from(queue[len(queue)-1]) >= from(a) {
					queue = queue[:len(queue)-1]
				}
				queue = append(queue, a)
			}
			a := first + i*step
			for len(queue) > head && queue[head] < a-most*step {
				head++
			}
			if len(queue) == head {
				continue
			}
			if c := g.fixed[w] + from(queue[head]) + perUnit*float64(a); c < after[a] {
				after[a], g.lots[w][a] = c, (a-queue[head])/step
			}
		}
	}
	g.costs = after
}

// fly lets the fallback of an interval be used, one load after another.
func (g *grid) fly(w int) {
	load := g.units(g.load[w])
	price := g.flyPrice[w] * g.load[w]
	for a := load; a < g.size; a++ {
		if c := g.costs[a-load] + price; c < g.costs[a] {
			g.costs[a], g.flown[w][a] = c, true
		}
	}
}

// trace goes back from the sum at the end.
func (g *grid) trace(a int, plan *amounts) {
	for w := g.n - 1; w >= 0; w-- {
		for g.flown[w][a] {
			plan.fallback[w] += g.load[w]
			a -= g.units(g.load[w])
		}
		steps := g.lots[w][a]
		plan.lot[w] = float64(steps) * g.step[w]
		a -= steps * g.units(g.step[w])
	}
}
