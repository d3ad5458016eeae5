package resupply

import (
	"math"
	"testing"
)

// Points of Student's distribution as any table has them.
func TestScoresOfStudentsDistributionAgreeWithTheTable(t *testing.T) {
	z975 := 1.959963984540054
	for _, c := range []struct{ df, z, want float64 }{
		{4, z90, 1.533}, {4, z975, 2.776}, {10, z90, 1.372}, {10, z975, 2.228}, {29, z90, 1.311}, {29, -z90, -1.311}, {29, z975, 2.045},
	} {
		table := scoresOf(student{c.df})
		if got := table.at(c.z); math.Abs(got-c.want) > 0.002 {
			t.Errorf("%v degrees of freedom: %.4f at %.3f, want %v", c.df, got, c.z, c.want)
		}
		if back := table.score(table.at(c.z)); math.Abs(back-c.z) > 1e-9 {
			t.Errorf("%v comes back as %v", c.z, back)
		}
	}
}

// JCGM 100:2008, G.4.1: with one component of ν degrees of freedom and one that is known, ν (u₁² + u₂²)² / u₁⁴. At equal
// parts that is 4 ν.
func TestAKnownErrorBesideAFittedOneRaisesItsDegreesOfFreedom(t *testing.T) {
	if got := (student{10}).wider(1).(student).df; got != 40 {
		t.Errorf("%v, want 40", got)
	}
	if got := (student{10}).wider(0).(student).df; got != 10 {
		t.Errorf("without an error %v, want 10", got)
	}
}

func TestTheSmoothedRecordKeepsItsVarianceAndItsShape(t *testing.T) {
	var residuals []float64 // half the years early, half late: variance 1
	for i := range 40 {
		residuals = append(residuals, float64(i%2)*2-1)
	}
	for _, s := range []shape{smooth(residuals), smooth(residuals).wider(0.5)} {
		sum, squares := 0.0, 0.0
		const n = 20_000
		for i := range n { // the mean over evenly spaced probabilities
			u := s.quantile((float64(i) + 0.5) / n)
			sum, squares = sum+u/n, squares+u*u/n
		}
		if math.Abs(sum) > 1e-3 || math.Abs(squares-1) > 2e-3 {
			t.Errorf("%T: mean %.4f, variance %.4f, want 0 and 1", s, sum, squares)
		}
	}
	if middle := smooth(residuals).below(0.25) - smooth(residuals).below(-0.25); middle > 0.1 {
		t.Errorf("%.3f lies in the middle, where no year was: the normal distribution has 0.197", middle)
	}
}
