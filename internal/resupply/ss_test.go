package resupply

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// days of a random walk of Poisson demand, one sum a day.
func poissonDays(mean float64, n, days int) wandering {
	d := distuv.Poisson{Lambda: mean}
	cdf := perPath(int(mean+20*math.Sqrt(mean)+20), func(k int) float64 { return d.CDF(float64(k)) })
	return wandering{perPath(n, func(s int) []float64 {
		draws, sums := NewDraws(1, "demand", s), make([]float64, days+1)
		for t := 1; t <= days; t++ {
			u, k := draws.Float64(), 0
			for k < len(cdf)-1 && cdf[k] < u {
				k++
			}
			sums[t] = sums[t-1] + float64(k)
		}
		return sums
	})}
}

// Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed. 2019, example 4.7, and the table of Zheng and Federgruen,
// Operations Research 39 (1991), as a general inventory-theory library prints both: every day may order, up to S
// when s or less is left; K an order, h a unit left at the close of the day, p a unit short. What is short comes by the
// fallback here and later there, which costs the same: the next order makes up for it either way.
func TestOrderingUpToALevelCostsWhatIsPublished(t *testing.T) {
	const n, days = 300, 400
	for _, c := range []struct{ mean, h, p, k, s, upTo, cost float64 }{
		{6, 1, 4, 5, 4, 10, 8.034111561471642},
		{10, 1, 9, 64, 6, 40, 35.0215553},
		{20, 1, 9, 64, 14, 62, 49.1730357},
		{64, 1, 9, 64, 55, 74, 78.4023207},
	} {
		p := &Problem{
			AsOf: asOf, Horizon: days, Risk: 0.5, Burn: poissonDays(c.mean, n, days), Stock: same(n, c.upTo),
			Windows: []Window{{
				Route: "boat", AllYear: true, Opens: same(n, 0), Closes: same(n, Never), Lead: same(n, 1), Slip: same(n, 0),
				Terms: Terms{Fixed: c.k, Price: 1, Apart: 1, Currency: "USD"},
			}},
			Fallbacks: []Fallback{{Route: "flights", Price: 1 + c.p, Currency: "USD"}}, Carrying: c.h * yearDays,
		}
		f := p.futures(p.occasionsOf(0), 1)
		policy := &course{}
		for u := range f.last() {
			policy.used = append(policy.used, u)
			policy.upTo, policy.call = append(policy.upTo, c.upTo), append(policy.call, c.s+1)
		}
		total := f.replay(policy).Cost // a litre costs 1: what is left is worth as much
		perDay := func(x float64) float64 { return x / float64(f.last()) }
		sold := 0.0
		for s := range n {
			sold += f.legs[s][f.last()].gone / n
		}
		got, within := perDay(total.Mean-sold), 3*perDay(total.Error)+c.k/days
		t.Logf("Poisson %v, (%v, %v): %.4f ± %.4f a day, printed %.4f", c.mean, c.s, c.upTo, got, perDay(total.Error), c.cost)
		if math.Abs(got-c.cost) > within {
			t.Errorf("Poisson %v, (%v, %v): %.4f a day, printed %.4f, within %.4f", c.mean, c.s, c.upTo, got, c.cost, within)
		}
	}
}
