package resupply

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
)

// wandering burns at a level of its own on each path, with a yearly season and a slow drift: invented.
type wandering struct{ sums [][]float64 }

func (w wandering) Count() int                       { return len(w.sums) }
func (w wandering) Cumulative(path, day int) float64 { return w.sums[path][day] }
func (w wandering) Path(path int) []float64          { return w.sums[path][1:] }

func wanders(perDay, levelSD float64, n, days int, seed uint64) wandering {
	w := wandering{perPath(n, func(s int) []float64 {
		d := NewDraws(seed, "burn", s)
		level, drift := perDay*math.Exp(levelSD*d.NormFloat64()-levelSD*levelSD/2), 0.0
		sums := make([]float64, days+1)
		for t := 1; t <= days; t++ {
			drift += levelSD / 20 * d.NormFloat64()
			sums[t] = sums[t-1] + level*math.Exp(drift)*(1+0.3*math.Cos(2*math.Pi*float64(t)/365))
		}
		return sums
	})}
	return w
}

// river is an invented plant: some 1,000 L a day, tanks for a year and a tenth, two barges a summer.
func river(n int, seed uint64, failing float64) *Problem {
	route := Route{
		ID: "barge", LeadDays: 45, LeadSDDays: 10, SlipDays: 3, SlipSDDays: 2,
		Recurring: []Recurring{{
			Name: "summer", Opens: YearDate{time.June, 1}, OpensSDDays: 7, Closes: YearDate{time.October, 10}, ClosesSDDays: 10, FailChance: failing,
		}},
	}
	p := &Problem{
		AsOf: asOf, Horizon: 880, Risk: 0.05, Burn: wanders(1000, 0.08, n, 920, seed), Stock: perPath(n, func(s int) float64 {
			return 180_000 + 2000*NewDraws(seed, "stock", s).NormFloat64()
		}),
		Reserve: Reserve{Days: 30}, Capacity: []Capacity{{0, 480_000}},
		Fallbacks: []Fallback{{Route: "flights", Mode: "air", Load: 17_000, LeadDays: 4, Price: 2.9, Currency: "USD"}},
		Carrying:  0.05,
	}
	for _, s := range Seasons([]Route{route}, asOf, asOf+calendar.Day(p.Horizon)) {
		w := s.Draw(asOf, n, seed)
		w.Terms = Terms{Fixed: 8000, Price: 1.05, Deliveries: 2, Apart: 45, Currency: "USD"}
		p.Windows = append(p.Windows, w)
	}
	return p
}

// Worked by hand: 10,000 L, 100 L a day, 2,000 L reserve, tanks for 40,000 L, a barge of 500 a stop at 1 a
// litre, flights at 4 in loads of 1,000 L. It opens on day 60 (fuel there on day 65) and on day 425 (430).
// Ordered by day 30: 60 − 30 of lead. On day 65, before its burn, 10,000 − 6,400 = 3,600 L are left, and until
// the close of day 429 go 429 − 64 = 365 days of 100 L, the reserve to be left: up to 36,500 + 2,000 = 38,500 L, a lot of
// 34,900 L. It costs 500 + 34,900. Nothing is flown, and the reserve is never lost. At the arrival on day 430,
// 2,000 L are left above nothing: worth 2,000.
func TestAPlanWorkedByHand(t *testing.T) {
	p := plain()
	for i := range p.Windows {
		p.Windows[i].Terms = Terms{Fixed: 500, Price: 1, Currency: "USD"}
	}
	plan := p.Plan(1)
	if len(plan.Lots) != 1 {
		t.Fatalf("%d lots, want one", len(plan.Lots))
	}
	l := plan.Lots[0]
	if l.OrderBy != *day(30) || !cmp.Equal(l.Arrives, Dates{day(65), day(65), day(65)}) || l.Delivery != 1 {
		t.Errorf("delivery %d ordered by %v arrives %v, want the first by day 30, on day 65", l.Delivery, l.OrderBy, l.Arrives)
	}
	if l.UpTo != 38_500 || l.Litres != (Litres{34_900, 34_900, 34_900}) || l.Called != 1 {
		t.Errorf("up to %.1f, lot %v on %.2f of the paths; want 38,500 and 34,900 on all", l.UpTo, l.Litres, l.Called)
	}
	why := Because{From: *day(65), Tightest: *day(429), Outflow: 36_500, Reserve: 2000, Asked: 38_500, Room: 40_000}
	if l.Why != why {
		t.Errorf("because %+v, want %+v", l.Why, why)
	}
	if !cmp.Equal(plan.Until.Arrives, Dates{day(430), day(430), day(430)}) || plan.Cost.Total != 35_400 || plan.Cost.Fixed != 500 {
		t.Errorf("carries to %v, costs %+v; want day 430 and 35,400, of it 500 for the stop", plan.Until.Arrives, plan.Cost)
	}
	r := plan.Replay(p, 1)
	if r.Below != 0 || r.Fallback != 0 || r.Dry != 0 || r.Fuel != 34_900 || r.Left != 2000 || r.Cost.P50 != 33_400 || r.Cost.Error != 0 {
		t.Errorf("replayed: %+v, want 34,900 for fuel, 2,000 left, and no more", r)
	}
}

// freshSets makes the paths on which plans are tried that have not seen them.
func freshSets(sets, n int, failing float64) []*Problem {
	return perPath(sets, func(i int) *Problem { return roomy(n, uint64(1000+i), failing) })
}

// roomy is the river's plant with stock for the first season and tanks without an end.
func roomy(n int, seed uint64, failing float64) *Problem {
	p := river(n, seed, failing)
	p.Capacity, p.Stock = nil, same(n, 300_000.0)
	return p
}

// asAsked is the course whose lots cost least, with the levels that the risk target asks for and no higher.
func asAsked(f *futures) *course {
	var least *course
	for _, c := range f.settled(func(int) bool { return true }) {
		if least == nil || c.cost < least.cost {
			least = c
		}
	}
	return least
}

// The target is the chance for each stretch between two deliveries that come. Its bound is one of 95 % confidence
// over the thousand paths of a plan: of three plans, each held against fifty thousand fresh paths, hardly one stretch may lie
// above the target, and none far.
func TestTheRiskOfEachStretchIsKeptOnFreshPaths(t *testing.T) {
	const sets, n, plans = 50, 1000, 3
	fresh := freshSets(sets, n, 0)
	for _, risk := range []float64{0.01, 0.02, 0.05, 0.1} {
		var all []float64
		beyond, above := 0.0, 0
		for seed := range uint64(plans) {
			p := roomy(n, 1+seed, 0)
			p.Risk = risk
			f := p.futures(p.occasions(), 1)
			c := asAsked(f)
			below := make([]float64, len(c.used)+1)
			for i, q := range fresh {
				q.Risk = risk
				for k, b := range q.futuresOf(f.all, uint64(i)).replay(c).BelowIn {
					below[k] += b / sets
					beyond += count(b > risk+binomialBand(risk, n))
				}
			}
			all = append(all, below[1:]...)
		}
		for _, b := range all {
			if b > risk+binomialBand(risk, sets*n) {
				above++
			}
			if b > 1.2*risk || b < risk/3 {
				t.Errorf("risk %.2f: below the reserve on %.4f of all paths of a stretch", risk, b)
			}
		}
		if m := mean(all); above > 1 || m > risk || beyond > 0.025*sets*float64(len(all))+10 {
			t.Errorf("risk %.2f: %d of %d stretches lie above it, %.4f in the mean; %.0f sets of %d beyond the band of one", risk, above, len(all), m, beyond, sets*len(all))
		}
		t.Logf("risk %.2f: below the reserve in each stretch on %.4f, slack %.4f in the mean", risk, all, risk-mean(all))
	}
}

// binomialBand is how far a share of n paths may lie above its probability in 97.5 of 100 cases: the normal
// approximation of the binomial distribution.
func binomialBand(p float64, n float64) float64 { return 1.96 * math.Sqrt(p*(1-p)/n) }

// Where a window may fail, the target is kept over the paths on which it opens; with a chance of failing within half the
// target it is kept over all, the failing ones included.
func TestTheRiskIsKeptByScenarioWhereWindowsFail(t *testing.T) {
	const sets, n = 20, 1000
	for _, c := range []struct {
		failing float64
		all     bool // kept over all paths
	}{{0.02, true}, {0.2, false}} {
		fresh := freshSets(sets, n, c.failing)
		p := roomy(n, 1, c.failing)
		p.Risk = 0.05
		f := p.futures(p.occasions(), 1)
		course := asAsked(f)
		opens, stretchAll := 0.0, 0.0
		for i, q := range fresh {
			q.Risk = p.Risk
			g := q.futuresOf(f.all, uint64(i))
			r := g.replay(course)
			opens += r.BelowIn[1] / sets
			below := 0.0
			for _, o := range g.outcomes(course) {
				below += count(o.BelowIn[1]) / n
			}
			stretchAll += below / sets
		}
		t.Logf("failing %.2f: below on %.4f of the paths that open, %.4f of all", c.failing, opens, stretchAll)
		if opens > p.Risk {
			t.Errorf("a window that fails on %.2f: below on %.4f of the paths on which it opens", c.failing, opens)
		}
		if band := binomialBand(p.Risk, sets*n); c.all != (stretchAll <= p.Risk+band) {
			t.Errorf("a window that fails on %.2f: below on %.4f of all paths, kept: want %v", c.failing, stretchAll, c.all)
		}
		plan := p.Plan(1)
		if alone := plan.Lots[0].Alone; alone == c.all {
			t.Errorf("a window that fails on %.2f: said to hold no target alone: %v", c.failing, alone)
		}
	}
}
