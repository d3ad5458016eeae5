package lots

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// drawn is an invented plant of a drawn seed: of three one has limits, and one has everything in steps.
func drawn(t *rapid.T) *Plant {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))
	p := invented(r, rapid.IntRange(1, 8).Draw(t, "windows"))
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 1:
		limited(r, p)
	case 2:
		allInSteps(r, p)
	}
	return p
}

// total is the cost of the best plan, +Inf where there is none.
func total(t *rapid.T, p *Plant) float64 {
	if flaws := p.Flaws(); flaws != nil {
		t.Fatal(flaws)
	}
	plan, err := p.Best()
	if err != nil {
		return math.Inf(1)
	}
	if by := breach(p, plan.Lots, plan.Fallback); by > 1e-12*(1+float64(p.size())+float64(plan.Cost.Total)) {
		t.Fatalf("a bound is broken by %v", by)
	}
	if plan.Bound > plan.Cost.Total {
		t.Fatalf("bound %v above the cost %v", plan.Bound, plan.Cost.Total)
	}
	return float64(plan.Cost.Total)
}

func clone(p *Plant) *Plant {
	q := *p
	q.Windows, q.Limits = slices.Clone(p.Windows), slices.Clone(p.Limits)
	for i := range q.Windows {
		if f := q.Windows[i].Fallback; f != nil {
			copied := *f
			q.Windows[i].Fallback = &copied
		}
	}
	return &q
}

// eased are the ways of easing a problem, each of which may only make the best plan cheaper.
var eased = map[string]func(p *Plant, w int, share float64){
	"more room": func(p *Plant, w int, share float64) {
		p.Windows[w].Room *= units.LitresAt15(1 + share)
	},
	"a cheaper lot":  func(p *Plant, w int, share float64) { p.Windows[w].Price *= Price(1 - share) },
	"a cheaper stop": func(p *Plant, w int, share float64) { p.Windows[w].Fixed *= Money(1 - share) },
	"a cheaper fallback": func(p *Plant, w int, share float64) {
		if f := p.Windows[w].Fallback; f != nil {
			f.Price *= Price(1 - share)
		}
	},
	"a fallback": func(p *Plant, w int, _ float64) {
		if p.Windows[w].Fallback == nil {
			p.Windows[w].Fallback = &Fallback{Price: 5}
		}
	},
	"a larger lot":  func(p *Plant, w int, share float64) { p.Windows[w].Max *= units.LitresAt15(1 + share) },
	"a smaller lot": func(p *Plant, w int, share float64) { p.Windows[w].Min *= units.LitresAt15(1 - share) },
	"a higher limit": func(p *Plant, _ int, share float64) {
		for i := range p.Limits {
			l := &p.Limits[i]
			if l.Litres != nil {
				most := *l.Litres * units.LitresAt15(1+share)
				l.Litres = &most
			} else {
				most := *l.Money * Money(1+share)
				l.Money = &most
			}
		}
	},
	// Less is needed and the fuel is there: what is carried above the need is charged, and so is left out.
	"less need": func(p *Plant, w int, share float64) {
		p.Windows[w].Carrying = 0
		p.Windows[w].Need -= units.LitresAt15(share * math.Abs(float64(p.Windows[w].Need)))
	},
	// A window between two others, with the interval cut in two.
	"one more window": func(p *Plant, w int, share float64) {
		before := p.Windows[w]
		more := before
		more.Name = "one more"
		more.Fixed, more.Price = Money(float64(before.Fixed)*share), before.Price
		p.Windows[w].Carrying = 0
		if w+1 < len(p.Windows) {
			more.Room = p.Windows[w+1].Room
		} else {
			more.Room = units.LitresAt15(math.Inf(1))
		}
		for i := range p.Limits {
			l := &p.Limits[i]
			l.Windows = slices.Clone(l.Windows)
			for j := range l.Windows {
				if l.Windows[j] > w {
					l.Windows[j]++
				}
			}
		}
		p.Windows = slices.Insert(p.Windows, w+1, more)
	},
}

func TestAnEasedProblemNeverCostsMore(t *testing.T) {
	for name, ease := range eased {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				p := drawn(t)
				w := rapid.IntRange(0, len(p.Windows)-1).Draw(t, "window")
				if name == "less need" {
					p.Windows[w].Carrying = 0
				}
				before := total(t, p)
				q := clone(p)
				ease(q, w, rapid.Float64Range(0, 0.6).Draw(t, "share"))
				if after := total(t, q); after > before*(1+1e-9) {
					t.Fatalf("%v before, %v after", before, after)
				}
			})
		})
	}
}

// Litres in other units and money in another currency make the same plan. Powers of two change no digit, other factors the last ones.
func TestThePlanDoesNotDependOnTheUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		partly := rapid.Bool().Draw(t, "partly in steps")
		if partly {
			inSteps(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "of"), 8)), p)
		}
		volume := rapid.SampledFrom([]float64{1.0 / 1024, 0.001, 1 / units.LitresPerUSGallon, 1, 64, 1000}).Draw(t, "volume")
		money := rapid.SampledFrom([]float64{1.0 / 4096, 0.01, 1, 1.37, 1024}).Draw(t, "money")
		q := clone(p)
		litre, price := units.LitresAt15(volume), Price(money/volume)
		for i := range q.Windows {
			w := &q.Windows[i]
			w.Need, w.Room, w.Min, w.Max, w.Step = w.Need*litre, w.Room*litre, w.Min*litre, w.Max*litre, w.Step*litre
			w.Fixed, w.Price, w.Carrying = w.Fixed*Money(money), w.Price*price, w.Carrying*price
			if w.Fallback != nil {
				w.Fallback.Price, w.Fallback.Load = w.Fallback.Price*price, w.Fallback.Load*litre
			}
		}
		for i := range q.Limits {
			l := &q.Limits[i]
			if l.Litres != nil {
				most := *l.Litres * litre
				l.Litres = &most
			} else {
				most := *l.Money * Money(money)
				l.Money = &most
			}
		}
		one, err1 := p.Best()
		other, err2 := q.Best()
		if partly && (err1 != nil || err2 != nil || !one.Proved || !other.Proved) {
			return // the search may have been given up
		}
		if (err1 == nil) != (err2 == nil) {
			t.Fatalf("%v, in other units %v", err1, err2)
		}
		if err1 != nil {
			a, b := err1.(*Infeasible), err2.(*Infeasible)
			if a.Window != b.Window || a.Lack != b.Lack || differs(float64(b.Litres)/volume, float64(a.Litres), 1e-6) {
				t.Fatalf("%v, in other units %v", err1, err2)
			}
			return
		}
		if differs(float64(other.Cost.Total)/money, float64(one.Cost.Total), 1e-9) {
			t.Fatalf("cost %v, in other units %v", one.Cost.Total, float64(other.Cost.Total)/money)
		}
	})
}

func TestTheSamePlantHasTheSamePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		one, err1 := p.Best()
		other, err2 := clone(p).Best()
		if fmt.Sprint(one, err1) != fmt.Sprint(other, err2) {
			t.Fatal(one, err1, other, err2)
		}
	})
}
