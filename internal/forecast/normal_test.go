package forecast

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The reference is the standard library, which has the same method with tables in single precision.
func TestNormalNumbersAreThoseOfTheStandardLibrary(t *testing.T) {
	const count = 2_000_000 // a thousand of them from the tail
	source, reference := rand.NewPCG(1, 2), rand.New(rand.NewPCG(1, 2))
	z := make([]float64, count)
	fillNormal(z, source)
	tails := 0
	for i := range z {
		want := reference.NormFloat64()
		if math.Abs(z[i]-want) > 1e-6*math.Abs(want) {
			t.Fatalf("number %d is %v, want %v", i, z[i], want)
		}
		if math.Abs(want) > tailStart {
			tails++
		}
	}
	// 2·(1-Φ(3.4426)) = 5.76e-4 of them, as R's 2*pnorm(-3.4426) has it (from memory): four standard deviations.
	within(t, "numbers in the tail", float64(tails), 5.76e-4*count, 4*math.Sqrt(5.76e-4*count))
}
