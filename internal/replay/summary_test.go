package replay

import (
	"math"
	"testing"
)

// Two plants in two worlds. Costs of a: 10 + 1 and 20 + 3, so 11 and 23: mean 17, standard deviation √(2·6²) = 8.485, standard error 6. Those
// of b: 14 and 24; over a: 3 and 1, mean 2, standard deviation √2, standard error 1.
func TestDifferencesAreTakenWorldByWorld(t *testing.T) {
	score := func(policy string, world int, fuel float64, below int) Score {
		return Score{Policy: policy, World: world, Fuel: fuel, Below: below, Plant: &Plant{}}
	}
	got := Summarise([]Score{
		score("a", 1, 10, 5), score("a", 2, 20, 0), score("b", 1, 14, 1), score("b", 2, 24, 1),
		score("a", 1, 1, 2), score("a", 2, 3, 1), score("b", 1, 0, 0), score("b", 2, 0, 0),
	}, 2)
	want := []struct{ cost, excess, below Spread }{
		{Spread{17, math.Sqrt(72), 6}, Spread{}, Spread{4, math.Sqrt(18), 3}},
		{Spread{19, math.Sqrt(50), 5}, Spread{2, math.Sqrt2, 1}, Spread{1, 0, 0}},
	}
	near := func(a, b Spread) bool {
		return math.Abs(a.Mean-b.Mean)+math.Abs(a.SD-b.SD)+math.Abs(a.Error-b.Error) < 1e-9
	}
	if len(got) != 2 {
		t.Fatalf("%d policies", len(got))
	}
	for i, w := range want {
		if g := got[i]; !near(g.Cost, w.cost) || !near(g.Excess, w.excess) || !near(g.Below, w.below) {
			t.Errorf("%s: %+v", g.Policy, g)
		}
	}
}

func TestOneWorldHasNoSpread(t *testing.T) {
	if got := spreadOf([]float64{7}); got != (Spread{Mean: 7}) {
		t.Errorf("%+v", got)
	}
}
