package resupply

import "testing"

func BenchmarkPlanOfAPlant(b *testing.B) {
	p := river(1000, 1, 0.04)
	for b.Loop() {
		p.Plan(1)
	}
}
