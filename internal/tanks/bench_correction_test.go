package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// BenchmarkExp is the yardstick of the corrections: each needs it once at least.
func BenchmarkExp(b *testing.B) {
	sum, x := 0.0, -0.05
	for b.Loop() {
		sum += math.Exp(x)
		x += 1e-9
	}
	if math.IsNaN(sum) {
		b.Fatal(sum)
	}
}

func BenchmarkVCF(b *testing.B) {
	c, at := corrector(b, 840), units.Celsius(-20)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.VCF(at); err != nil {
			b.Fatal(err)
		}
		at += 1e-8
	}
}

func BenchmarkCTPL(b *testing.B) {
	c := corrector(b, 840)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.CTPL(-20, 700); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewCorrector(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewCorrector(840); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDensity15FromObserved(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Density15(units.KgPerM3(868), -20); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkObservedGasolineUnderPressure(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (Procedure{}).Observed(735, 20, 700); err != nil {
			b.Fatal(err)
		}
	}
}
