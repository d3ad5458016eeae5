package resupply

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawnPlant is any plant with three windows of two routes, drawn for few paths: invented.
func drawnPlant(t *rapid.T) *Problem {
	const n = 120
	seed := rapid.Uint64Range(1, 1<<40).Draw(t, "seed")
	p := &Problem{
		AsOf: asOf, Horizon: 760, Risk: 0.1,
		Burn:      wanders(rapid.Float64Range(100, 3000).Draw(t, "burn"), rapid.Float64Range(0.01, 0.2).Draw(t, "spread"), n, 760, seed),
		Fallbacks: []Fallback{{Route: "flights", Mode: "air", Load: 5000, LeadDays: 4, Price: rapid.Float64Range(2.2, 5).Draw(t, "flown"), Currency: "USD"}},
		Carrying:  rapid.Float64Range(0, 0.2).Draw(t, "carrying"),
	}
	year := p.Burn.Cumulative(0, 365)
	p.Stock = same(n, rapid.Float64Range(0.05, 1).Draw(t, "stock")*year)
	p.Reserve.Litres = rapid.Float64Range(0, 0.15).Draw(t, "reserve") * year
	p.Capacity = []Capacity{{0, math.Floor(rapid.Float64Range(0.4, 1.6).Draw(t, "tanks") * year)}} // tanks hold whole litres
	for i, opens := range []int{60, 230, 425, 700} {
		w := window(opens, opens+70)
		w.Terms = Terms{
			Fixed: rapid.Float64Range(0, 0.1).Draw(t, "stop") * year, Currency: "USD",
			Price: rapid.Float64Range(0.8, 2).Draw(t, "price"), Deliveries: 1 + i%2, Apart: 30,
		}
		if rapid.Bool().Draw(t, "limited") {
			w.Lot.Min = rapid.Float64Range(0, 0.1).Draw(t, "least") * year
			w.Lot.Max = rapid.Float64Range(0.3, 1.5).Draw(t, "most") * year
		}
		w.Opens = perPath(n, func(s int) int { return opens + int(8*NewDraws(seed, w.Name+w.Opening.String(), s).Score()) })
		p.Windows = append(p.Windows, w)
	}
	return p
}

// exact is the least cost over all sets of deliveries, by the plan's bounds.
func exact(p *Problem) float64 {
	least := math.Inf(1)
	f := p.futures(p.occasions(), 1)
	for _, c := range f.settled(func(int) bool { return true }) {
		least = min(least, c.cost)
	}
	return least
}

func TestAnEasedPlantNeverCostsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPlant(t)
		was := exact(p)
		for name, ease := range map[string]func(q *Problem){
			"more room":          func(q *Problem) { q.Capacity = []Capacity{{0, math.Floor(1.1 * p.Capacity[0].Litres)}} },
			"a lower reserve":    func(q *Problem) { q.Reserve.Litres *= 0.9 },
			"cheaper fuel":       func(q *Problem) { q.Windows[1].Terms.Price *= 0.9 },
			"a cheaper stop":     func(q *Problem) { q.Windows[2].Terms.Fixed *= 0.5 },
			"a cheaper fallback": func(q *Problem) { q.Fallbacks[0].Price *= 0.9 },
			"one more window": func(q *Problem) {
				w := window(330, 380)
				w.Terms = q.Windows[0].Terms
				q.Windows = slices.Insert(q.Windows, 2, w)
			},
		} {
			q := *p
			q.Windows, q.Fallbacks = slices.Clone(p.Windows), slices.Clone(p.Fallbacks)
			ease(&q)
			if now := exact(&q); now > was*(1+1e-9)+1e-6 {
				t.Errorf("%s: %.2f, before %.2f", name, now, was)
			}
		}
	})
}

func TestAPlanDoesNotDependOnTheUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPlant(t)
		const by = 4 // a power of two scales floats without rounding
		q := *p
		q.Burn, q.Reserve.Litres = scaled{p.Burn, by}, by*p.Reserve.Litres
		q.Stock = perPath(len(p.Stock), func(s int) float64 { return by * p.Stock[s] })
		q.Capacity = []Capacity{{0, by * p.Capacity[0].Litres}}
		q.Windows, q.Fallbacks = slices.Clone(p.Windows), slices.Clone(p.Fallbacks)
		q.Fallbacks[0].Load *= by
		for i := range q.Windows {
			w := &q.Windows[i]
			w.Terms.Fixed *= by
			w.Lot.Min, w.Lot.Max = by*w.Lot.Min, by*w.Lot.Max
		}
		a, b := p.Plan(1), q.Plan(1)
		if (a == nil) != (b == nil) {
			t.Fatalf("a plan in one unit and none in another")
		}
		if a == nil {
			return
		}
		if !slices.Equal(a.course.used, b.course.used) {
			t.Fatalf("uses %v, scaled %v", a.course.used, b.course.used)
		}
		for k := range a.Lots {
			if apart(by*a.Lots[k].UpTo, b.Lots[k].UpTo) || a.Lots[k].OrderBy != b.Lots[k].OrderBy {
				t.Errorf("lot %d: up to %.3f by %v, scaled %.3f by %v", k, a.Lots[k].UpTo, a.Lots[k].OrderBy, b.Lots[k].UpTo, b.Lots[k].OrderBy)
			}
		}
	})
}

func apart(a, b float64) bool { return math.Abs(a-b) > 1e-6*math.Abs(a)+1e-6 }

func TestALevelFollowsFromItsOwnLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPlant(t)
		plan := p.Plan(1)
		if plan == nil {
			return
		}
		for k, l := range plan.Lots {
			w := l.Why
			if asked := w.Outflow - w.Brought + w.Reserve; apart(asked, w.Asked) || apart(w.Asked+w.Raised, l.UpTo) {
				t.Errorf("lot %d: %.1f out, %.1f brought, reserve %.1f: asked %.1f, raised %.1f, up to %.1f", k, w.Outflow, w.Brought, w.Reserve, w.Asked, w.Raised, l.UpTo)
			}
		}
	})
}
