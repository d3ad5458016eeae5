package resupply

import (
	"math/rand/v2"
	"testing"
)

// A window has two dates, and each is fitted once for all plants that it serves.
func BenchmarkFitADateToSixtyYears(b *testing.B) {
	p := truth{0, normalNoise}.record(rand.New(rand.NewPCG(1, 1)), 60)
	for b.Loop() {
		(&DateFit{}).settle(p)
	}
}
