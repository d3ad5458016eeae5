package resupply

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// Of how many sets of deliveries the courses are carried out on the paths, and of how many of those the levels
// are raised.
const (
	finalists = 12
	raised    = 3
)

// best finds the course of least expected cost. Every set of deliveries has its exact lots; the cheapest sets
// are carried out on the paths, where the fallback's cost shows, and of the best of them each level is raised
// as far as that is cheaper: it pays to carry more than the risk target asks where the fallback is dear or
// the next window may fail. A delivery without which the risk target is kept on a path is left out there if that is
// cheaper. Nil where there is no course at all.
func (f *futures) best(allowed func(occasion int) bool) *course {
	all := f.cheapest(allowed)
	for _, c := range all {
		c.cost = f.judge(c, f.rough())
	}
	slices.SortStableFunc(all, func(a, b *course) int { return cmp.Compare(a.cost, b.cost) })
	var best *course
	for _, c := range all[:min(len(all), raised)] {
		f.raise(c)
		if best == nil || c.cost < best.cost {
			best = c
		}
	}
	return best
}

// cheapest gives the sets of deliveries of the least cost by their plans, what they leave at the end taken off; of two
// alike that with fewer.
func (f *futures) cheapest(allowed func(occasion int) bool) []*course {
	all := f.settled(allowed)
	slices.SortStableFunc(all, func(a, b *course) int {
		return cmp.Or(cmp.Compare(a.cost-a.left, b.cost-b.left), cmp.Compare(len(a.used), len(b.used)))
	})
	return all[:min(len(all), finalists)]
}

// settled settles every set of deliveries.
func (f *futures) settled(allowed func(occasion int) bool) []*course {
	var all []*course
	n := f.last()
	for set := range uint(1) << n {
		c, occasions := &course{used: make([]int, 0, bits.OnesCount(set))}, make([]*occasion, 0, n)
		for u := range n {
			if set&(1<<u) != 0 && allowed(u) {
				c.used, occasions = append(c.used, u), append(occasions, f.all[u])
			}
		}
		if len(c.used) == bits.OnesCount(set) && f.p.together(occasions) && f.settle(c) {
			all = append(all, c)
		}
	}
	return all
}

// judge gives a course's mean cost over every so many-th path, with what is missing at the price of a last resort.
func (f *futures) judge(c *course, every int) float64 {
	sum, last := 0.0, float64(f.fallback().Price)
	o := newOutcome(c)
	for s := 0; s < len(f.legs); s += every {
		f.carry(c, s, o)
		sum += o.total() + o.Missing*last
	}
	return sum / float64((len(f.legs)+every-1)/every)
}

// cheaper tells that one mean cost is below another by more than rounding: between equals a level stays what
// the risk target asks for.
func cheaper(cost, than float64) bool { return than-cost > 1e-12*max(1, math.Abs(than)) }

// enoughPaths is how many paths tell which of two courses is cheaper; more only make it surer.
const enoughPaths = 400

// rough is every how many-th path is looked at while courses are sought.
func (f *futures) rough() int { return max(1, len(f.legs)/enoughPaths) }

// raise lifts each level, the last first, by golden section between what the risk asks and what there is
// room for: the mean cost over the paths is convex in a level but for lots that come in steps. What it finds
// on a part of the paths must be cheaper over all of them.
func (f *futures) raise(c *course) {
	before := f.judge(c, 1)
	from, call := slices.Clone(c.upTo), slices.Clone(c.call)
	c.cost = f.judge(c, f.rough())
	for range passes {
		was := c.cost
		for k := len(c.used) - 1; k >= 0; k-- {
			if top := f.of(c.used[k], f.next(c, k)).most(f.p.Risk); top > from[k] && !math.IsInf(top, 1) {
				f.section(c, k, from[k], top, f.rough())
			}
		}
		if !cheaper(c.cost, was) {
			break
		}
	}
	for k := range c.used {
		f.spare(c, k, from[k])
	}
	if c.cost = f.judge(c, 1); !cheaper(c.cost, before) {
		c.upTo, c.call, c.cost = from, call, before
	}
}

// spare tries to call for the k-th delivery only with less in the tanks than the risk target asks for.
func (f *futures) spare(c *course, k int, asked float64) {
	was := c.call[k]
	if asked >= was {
		return
	}
	c.call[k] = asked
	if cost := f.judge(c, f.rough()); cheaper(cost, c.cost) {
		c.cost = cost
	} else {
		c.call[k] = was
	}
}

const passes = 2 // a level that is raised changes what pays at those before and after it

const sections = 6 // leaves 4 % of the room in doubt

// section leaves the k-th level where the cost over every so many-th path is least of all that it looked at.
func (f *futures) section(c *course, k int, low, high float64, every int) {
	try := func(level float64) float64 {
		was := c.upTo[k]
		c.upTo[k], c.call[k] = level, level
		cost := f.judge(c, every)
		if cheaper(cost, c.cost) {
			c.cost = cost
		} else {
			c.upTo[k], c.call[k] = was, was
		}
		return cost
	}
	golden := (math.Sqrt(5) - 1) / 2
	a, b := high-golden*(high-low), low+golden*(high-low)
	costA, costB := try(a), try(b)
	for range sections {
		if costA <= costB {
			high, b, costB = b, a, costA
			a = high - golden*(high-low)
			costA = try(a)
		} else {
			low, a, costA = a, b, costB
			b = low + golden*(high-low)
			costB = try(b)
		}
	}
	try(high)
}
