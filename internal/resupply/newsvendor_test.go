package resupply

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// atOnce burns what a path needs on the first day, and nothing after.
type atOnce []float64

func (a atOnce) Count() int { return len(a) }
func (a atOnce) Cumulative(path, day int) float64 {
	if day < 1 {
		return 0
	}
	return a[path]
}

// strata cuts a distribution into n parts of equal probability and gives the mean of each, from the integral of its
// quantile function up to a probability. A mean of a function that is linear within each part is exact on them.
func strata(n int, integral func(u float64) float64) atOnce {
	parts := make(atOnce, n)
	below := 0.0
	for i := range parts {
		now := integral(float64(i+1) / float64(n))
		parts[i] = (now - below) * float64(n)
		below = now
	}
	return parts
}

func normal(mu, sigma float64) func(float64) float64 {
	unit := distuv.UnitNormal
	return func(u float64) float64 {
		if u >= 1 {
			return mu
		}
		return mu*u - sigma*unit.Prob(unit.Quantile(u))
	}
}

func logNormal(mu, sigma float64) func(float64) float64 {
	unit := distuv.UnitNormal
	return func(u float64) float64 {
		mean := math.Exp(mu + sigma*sigma/2)
		if u >= 1 {
			return mean
		}
		return mean * unit.CDF(unit.Quantile(u)-sigma)
	}
}

func gamma(shape, scale float64) func(float64) float64 {
	d, more := distuv.Gamma{Alpha: shape, Beta: 1 / scale}, distuv.Gamma{Alpha: shape + 1, Beta: 1 / scale}
	return func(u float64) float64 {
		if u >= 1 {
			return shape * scale
		}
		return shape * scale * more.CDF(d.Quantile(u))
	}
}

// counts is a distribution over 0, 1, 2 and so on, from its probabilities.
func counts(mean float64, prob func(k int) float64) func(float64) float64 {
	k, cdf, sum := 0, prob(0), 0.0 // of what lies below k
	below := 0.0
	return func(u float64) float64 {
		if u >= 1 {
			return mean
		}
		for cdf < u {
			sum += float64(k) * (cdf - below)
			below = cdf
			k++
			cdf += prob(k)
		}
		return sum + float64(k)*(u-below)
	}
}

func poisson(mean float64) func(float64) float64 {
	d := distuv.Poisson{Lambda: mean}
	return counts(mean, func(k int) float64 { return d.Prob(float64(k)) })
}

// negativeBinomial counts failures before the r-th success of probability p.
func negativeBinomial(r, p float64) func(float64) float64 {
	return counts(r*(1-p)/p, func(k int) float64 {
		a, _ := math.Lgamma(float64(k) + r)
		b, _ := math.Lgamma(float64(k) + 1)
		c, _ := math.Lgamma(r)
		return math.Exp(a - b - c + r*math.Log(p) + float64(k)*math.Log(1-p))
	})
}

// newsvendor is a plant that buys once, at 1 a litre, for what it burns on the day: what is left over costs h a litre
// to keep until the next day, on which it is worth its price, and what is short costs p a litre on top of it. Its
// plan is the newsvendor's, and costs the mean demand more.
func newsvendor(demand atOnce, h, p float64) *futures {
	n := len(demand)
	at := func(day int) Window {
		return Window{
			Route: "boat", Name: "day", Opens: same(n, day), Closes: same(n, day), Lead: same(n, 0), Slip: same(n, 0),
			Terms: Terms{Price: 1, Currency: "USD"},
		}
	}
	problem := &Problem{
		AsOf: asOf, Horizon: 2, Risk: 0.5, Burn: demand, Stock: same(n, 0.0), Windows: []Window{at(1), at(2)},
		Fallbacks: []Fallback{{Route: "flights", Mode: "air", Price: 1 + p, Currency: "USD"}}, Carrying: h * yearDays,
	}
	return problem.futures(problem.occasions(), 1)
}

// upTo fills the only delivery up to a level.
func upTo(level float64) *course {
	return &course{used: []int{0}, upTo: []float64{level}, call: []float64{level}}
}

// cheapestLevel narrows the search for the level down to no more than rounding.
func (f *futures) cheapestLevel(from, to float64) (level, cost float64) {
	c := upTo(from)
	c.cost = f.judge(c, 1)
	for width := to - from; width > 1e-9*to; width /= 16 {
		f.section(c, 0, max(from, c.upTo[0]-width), min(to, c.upTo[0]+width), 1)
	}
	return c.upTo[0], c.cost
}

// Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed. 2019, examples 4.1 and 4.3 and problem 4.8 (b), as a general
// inventory-theory library prints their answers. The level of the least cost on equal parts is one of them, so
// that it is known to about a part's width; the cost is exact to their square.
func TestTheLevelOfALonelyDeliveryIsTheNewsvendors(t *testing.T) {
	const n = 20_000
	for _, c := range []struct {
		name                string
		demand              atOnce
		h, p                float64
		mean, level, cost   float64
		levelWithin, within float64
	}{
		{"normal, 50 and 8", strata(n, normal(50, 8)), 0.18, 0.70, 50, 56.60395592743389, 1.9976051931766445, 2e-3, 1e-6},
		{"Poisson, 50", strata(n, poisson(50)), 0.18, 0.70, 50, 56, 1.797235211809178, 1e-6, 1e-6},
		{"lognormal, 6 and 0.3", strata(n, logNormal(6, 0.3)), 1, 0.1765, math.Exp(6.045), 295.6266448, 29.44254, 3e-2, 2e-5},
	} {
		level, cost := newsvendor(c.demand, c.h, c.p).cheapestLevel(0, 4*c.mean)
		if math.Abs(level-c.level) > c.levelWithin || math.Abs(cost-c.mean-c.cost) > c.within {
			t.Errorf("%s: level %.6f, cost %.8f; printed %.6f and %.8f", c.name, level, cost-c.mean, c.level, c.cost)
		}
	}
	f := newsvendor(strata(n, normal(50, 8)), 0.18, 0.70)
	if cost := f.judge(upTo(60), 1) - 50; math.Abs(cost-2.156131552870387) > 1e-7 {
		t.Errorf("up to 60: %.9f, printed 2.156131553", cost)
	}
}

// The expected fuel that a level leaves short is the loss function: examples of the same library.
func TestWhatALevelLeavesShortIsTheLossFunction(t *testing.T) {
	const n = 20_000
	for _, c := range []struct {
		name         string
		demand       atOnce
		level, short float64
	}{
		{"standard normal at 1.3, moved by 10", strata(n, normal(10, 1)), 11.3, 0.04552796208651397},
		{"normal 15 and 3 at 18.6", strata(n, normal(15, 3)), 18.6, 0.1683073521514889},
		{"Poisson 15 at 18", strata(n, poisson(15)), 18, 0.5176095282584724},
		{"gamma 2 and 3 at 4", strata(n, gamma(2, 3)), 4, 2.635971381157268},
		{"lognormal 2 and 0.3 at 10", strata(n, logNormal(2, 0.3)), 10, 0.28364973888106326},
		{"negative binomial 4 and 0.2 at 14", strata(n, negativeBinomial(4, 0.2)), 14, 4.447304632028364},
	} {
		f := newsvendor(c.demand, 0.1, 1)
		r := f.replay(upTo(c.level))
		if math.Abs(r.Fallback-c.short) > 1e-7 {
			t.Errorf("%s: %.10f short, printed %.10f", c.name, r.Fallback, c.short)
		}
	}
}
