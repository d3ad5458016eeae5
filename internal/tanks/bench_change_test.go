package tanks

import (
	"testing"

	"overwinter/internal/units"
)

func BenchmarkMeasureWithItsUncertainty(b *testing.B) {
	lying := shape(b)(HorizontalCylinder(2400, 6000))
	dished := shape(b)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: FlangedAndDishedHead(), Right: FlangedAndDishedHead()}))
	c := corrector(b, 840)
	for _, bb := range []struct {
		name         string
		shape        Shape
		depth, water units.Millimetres
	}{
		{"flat", lying, 1234, 12},
		{"flat, water above the suction", lying, 1234, 300},
		{"flat, near the suction", lying, 152, 12},
		{"flat, near the water and both uncertain", lying, 302, 300},
		{"dished", dished, 1234, 12},
	} {
		b.Run(bb.name, func(b *testing.B) {
			tank := Tank{Shape: bb.shape, SafeFill: 0.95 * Capacity(bb.shape), Suction: bb.shape.Volume(150)}
			r := Reading{Depth: &bb.depth, Water: &bb.water, Temperature: new(units.Celsius(-20))}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := tank.Measure(r, c, 0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkChange(b *testing.B) {
	lying := shape(b)(HorizontalCylinder(2400, 6000))
	tank := Tank{Shape: lying, SafeFill: 0.95 * Capacity(lying), Suction: lying.Volume(150)}
	c := corrector(b, 840)
	opening := Reading{Depth: new(units.Millimetres(700)), Temperature: new(units.Celsius(-20))}
	closing := Reading{Depth: new(units.Millimetres(1900)), Temperature: new(units.Celsius(-18))}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := tank.Change(opening, closing, c, 0); err != nil {
			b.Fatal(err)
		}
	}
}
