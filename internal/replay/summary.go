package replay

import (
	"math"
	"slices"
)

// Summary is what became of all plants under a policy, over the worlds.
type Summary struct {
	Policy   string
	Cost     Spread // money of all plants
	Excess   Spread // over the first policy, world by world
	Fallback Spread // litres
	Unserved Spread // litres
	Below    Spread // plant-days below the reserve
	Failed   Spread // of those, after a window that failed
	Dry      Spread // plant-days
	Parts    Parts  // of the cost, means
	Visits   float64
}

// Parts are the parts of the mean cost.
type Parts struct{ Fuel, Stops, Flown, Carrying, Left float64 }

// Spread is a quantity over the worlds.
type Spread struct{ Mean, SD, Error float64 } // Error is the mean's standard error

// Summarise adds up the scores of all plants, policy by policy in the order of their first score.
func Summarise(scores []Score, worlds int) []Summary {
	var names []string
	for _, s := range scores {
		if !slices.Contains(names, s.Policy) {
			names = append(names, s.Policy)
		}
	}
	var all []Summary
	var first []float64
	for _, name := range names {
		total := func(of func(*Score) float64) []float64 {
			sums := make([]float64, worlds)
			for i := range scores {
				if s := &scores[i]; s.Policy == name {
					sums[s.World-1] += of(s)
				}
			}
			return sums
		}
		mean := func(of func(*Score) float64) float64 { return spreadOf(total(of)).Mean }
		cost := total((*Score).Cost)
		if first == nil {
			first = cost
		}
		excess := make([]float64, worlds)
		for w := range excess {
			excess[w] = cost[w] - first[w]
		}
		all = append(all, Summary{
			Policy: name, Cost: spreadOf(cost), Excess: spreadOf(excess),
			Fallback: spreadOf(total(func(s *Score) float64 { return s.Fallback })),
			Unserved: spreadOf(total(func(s *Score) float64 { return s.Unserved })),
			Below:    spreadOf(total(func(s *Score) float64 { return float64(s.Below) })),
			Failed:   spreadOf(total(func(s *Score) float64 { return float64(s.BelowAfterFailed) })),
			Dry:      spreadOf(total(func(s *Score) float64 { return float64(s.Dry) })),
			Visits:   mean(func(s *Score) float64 { return float64(s.Deliveries) }),
			Parts: Parts{
				Fuel: mean(func(s *Score) float64 { return s.Fuel }), Stops: mean(func(s *Score) float64 { return s.Stops }),
				Flown: mean(func(s *Score) float64 { return s.Flown }), Carrying: mean(func(s *Score) float64 { return s.Carrying }),
				Left: mean(func(s *Score) float64 { return s.Left }),
			},
		})
	}
	return all
}

func spreadOf(values []float64) Spread {
	n, sum, squares := float64(len(values)), 0.0, 0.0
	for _, v := range values {
		sum += v
	}
	s := Spread{Mean: sum / n}
	if n > 1 {
		for _, v := range values {
			squares += (v - s.Mean) * (v - s.Mean)
		}
		s.SD = math.Sqrt(squares / (n - 1))
		s.Error = s.SD / math.Sqrt(n)
	}
	return s
}
