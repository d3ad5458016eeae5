package tanks

import (
	"testing"

	"overwinter/internal/units"
)

func BenchmarkMeasureByUllageAndSeveralTemperatures(b *testing.B) {
	tank := hatch(b)
	c := corrector(b, 840)
	r := Reading{
		Gauge: Tape, Ullage: new(units.Millimetres(900)), WaterUllage: new(units.Millimetres(2100)),
		Temperatures: []units.Celsius{-19, -20, -22},
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := tank.Measure(r, c, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkQuantity(b *testing.B) {
	tank := Tank{Shape: shape(b)(StandingCylinder(Standing{Diameter: 10000, Height: 8000})), SafeFill: 500e3}
	heat, err := HeatContentOf("diesel-1-s15")
	if err != nil {
		b.Fatal(err)
	}
	by := Accounting{Fuel: corrector(b, 815), Shell: Shell{Material: MildSteel}, Heat: heat}
	r := Reading{Depth: new(units.Millimetres(5000)), Temperature: new(units.Celsius(-20)), Air: new(units.Celsius(-35))}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := tank.Quantity(r, by); err != nil {
			b.Fatal(err)
		}
	}
}
