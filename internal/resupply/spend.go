package resupply

import (
	"math"
	"slices"
)

// affordable is the most that the spending limits leave for the k-th used delivery on a path, once its earlier
// lots are paid, and the limit that sets it; infinity and −1 where none does.
func (f *futures) affordable(c *course, k, path int, lots []float64) (litres float64, by int) {
	litres, by = math.Inf(1), -1
	for i, l := range c.limits {
		if !slices.Contains(l.Windows, k+1) {
			continue
		}
		ordered, spent := 0.0, 0.0
		for _, w := range l.Windows {
			if lot := lots[w-1]; lot > 0 {
				ordered += lot
				spent += f.all[c.used[w-1]].window.Terms.Fixed + lot*f.prices[c.used[w-1]][path]
			}
		}
		left := math.Inf(1)
		if l.Litres != nil {
			left = float64(*l.Litres) - ordered
		}
		if l.Money != nil {
			money := float64(*l.Money) - spent - f.all[c.used[k]].window.Terms.Fixed
			left = min(left, money/f.prices[c.used[k]][path])
		}
		if left = max(0, left); left < litres {
			litres, by = left, i
		}
	}
	return litres, by
}

// Bounded is how often a spending limit keeps a plan's lots smaller than the stock of the day asks for.
type Bounded struct {
	Limit string
	Share float64 // of the paths
}

// bounded counts the paths on which each spending limit of a course cuts a lot.
func bounded(c *course, outcomes []outcome) []Bounded {
	var all []Bounded
	for i, l := range c.limits {
		cut := 0.0
		for s := range outcomes {
			cut += count(slices.Contains(outcomes[s].Cut, i))
		}
		if cut > 0 {
			all = append(all, Bounded{l.Name, cut / float64(len(outcomes))})
		}
	}
	return all
}
