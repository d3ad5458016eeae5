package lots

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// everySet solves each of the 2^W sets of used windows as a linear problem by the dual simplex method, without the order of time and
// without leaving any set out. It knows no steps.
func everySet(p *Plant) float64 {
	l := lineOf(p)
	s := &search{line: l}
	best := math.Inf(1)
	for set := range uint32(1) << l.n {
		n := node{used: set, shut: ^set}
		for w := range l.n {
			n.high.fallback[w] = math.Inf(1)
			if set>>w&1 == 1 {
				n.low.lot[w], n.high.lot[w] = float64(p.Windows[w].Min), float64(p.Windows[w].Max)
			}
		}
		fixed := s.prices(&n)
		var a amounts
		if s.solve(&n, &a) {
			best = min(best, fixed+s.cost(&n.box, &a)+l.constant)
		}
	}
	return best
}

func differs(got, want, by float64) bool { return !(math.Abs(got-want) <= by*math.Abs(want)) }

func TestThePlanIsTheBestOfAllSetsOfWindows(t *testing.T) {
	planned := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := invented(r, 1+r.IntN(7))
		if seed%2 == 0 {
			limited(r, p)
		}
		want := everySet(p)
		plan, err := p.Best()
		if math.IsInf(want, 1) {
			if why := (*Infeasible)(nil); !errors.As(err, &why) || why.Litres <= 0 {
				t.Errorf("seed %d: %v where no set of windows holds: %v", seed, plan, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("seed %d: %v, want a cost of %v", seed, err, want)
			continue
		}
		planned++
		if differs(float64(plan.Cost.Total), want, 1e-9) || !plan.Proved || plan.Bound != plan.Cost.Total {
			t.Errorf("seed %d: cost %v, bound %v, want %v", seed, plan.Cost.Total, plan.Bound, want)
		}
		if worst := breach(p, plan.Lots, plan.Fallback); worst > 1e-5 {
			t.Errorf("seed %d: a bound is broken by %v", seed, worst)
		}
	}
	t.Logf("%d plants with a plan", planned)
	if planned < 250 {
		t.Errorf("%d plants with a plan", planned)
	}
}

// A search that is cut short keeps its promises: whole steps, every bound kept, a lower bound that no plan beats. The full one ends with a proof or within
// one step.
func TestStepsAreKeptAndTheGapIsTold(t *testing.T) {
	planned, proved, cut := 0, 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 2))
		p := invented(r, 1+r.IntN(8))
		inSteps(r, p)
		full, err := p.Best()
		if err != nil {
			continue
		}
		planned++
		if full.Proved {
			proved++
		} else if step := lineOf(p).dearestStep(); float64(full.Gap()) > step {
			t.Errorf("seed %d: gap %v, a step costs %v", seed, full.Gap(), step)
		}
		rough, err := p.within(4)
		if err != nil {
			continue
		}
		if !rough.Proved {
			cut++
		}
		if float64(rough.Bound) > float64(full.Cost.Total)*(1+1e-9) || rough.Gap() < 0 {
			t.Errorf("seed %d: bound %v above the cost %v of another plan", seed, rough.Bound, full.Cost.Total)
		}
		for _, plan := range []*Plan{full, rough} {
			if worst := breach(p, plan.Lots, plan.Fallback); worst > 1e-5 {
				t.Errorf("seed %d: a bound is broken by %v", seed, worst)
			}
		}
	}
	t.Logf("%d plants with a plan, %d proved; %d cut short", planned, proved, cut)
	if planned < 250 || cut < 50 {
		t.Errorf("%d plants with a plan, %d cut short", planned, cut)
	}
}

// Two ways to the same plan: the grid, and the search over sets and steps.
func TestTheGridAndTheSearchFindTheSameCost(t *testing.T) {
	same := 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 3))
		p := invented(r, 1+r.IntN(6))
		allInSteps(r, p)
		l := lineOf(p)
		g := l.grid()
		if g == nil {
			continue // every window is shut
		}
		var plan amounts
		got := g.solve(&plan)
		s := &search{line: l, best: math.Inf(1), bound: math.Inf(-1)}
		s.prove(l.root(), mostNodes)
		if s.bound < s.best {
			continue // not proved
		}
		same++
		if !(got == s.best) && differs(got, s.best, 1e-9) {
			t.Errorf("seed %d: grid %v, search %v", seed, got, s.best)
		}
	}
	t.Logf("%d plants compared", same)
	if same < 150 {
		t.Errorf("%d plants compared", same)
	}
}
