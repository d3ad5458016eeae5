package tanks_test

import (
	"fmt"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// A delivery gauged before and after: what came, how sure that is, and which source to improve.
func ExampleTank_Change() {
	shape, err := tanks.HorizontalCylinder(2400, 6000)
	if err != nil {
		fmt.Println(err)
		return
	}
	tank := tanks.Tank{Shape: shape, SafeFill: 0.95 * tanks.Capacity(shape), Suction: 600}
	fuel, err := tanks.NewCorrector(840)
	if err != nil {
		fmt.Println(err)
		return
	}
	before := tanks.Reading{Gauge: tanks.Stick, Depth: new(units.Millimetres(600)), Temperature: new(units.Celsius(-12))}
	after := tanks.Reading{Gauge: tanks.Stick, Depth: new(units.Millimetres(1900)), Temperature: new(units.Celsius(-8))}
	came, err := tank.Change(before, after, fuel, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L at 15 °C, standard uncertainty %.0f L\n", came.Litres, came.Sigma)
	for _, p := range came.Parts {
		fmt.Printf("%-11s %-7s %6.5g ± %.3g %s: %+.3g L\n", p.Source, p.Moment, p.Value, p.Sigma, p.Unit, p.Contribution)
	}
	// Output:
	// 18065 L at 15 °C, standard uncertainty 98 L
	// reading     opening    600 ± 1.83 mm: -23.4 L
	// reading     closing   1900 ± 1.83 mm: +21.9 L
	// table                    1 ± 0.005 1: +90.3 L
	// temperature opening    -12 ± 1 °C: +4.41 L
	// temperature closing     -8 ± 1 °C: -19.2 L
	// density                840 ± 7.2 kg/m³: -4.42 L
	// shell                    0 ± 6.44e-06 1/°C: -5.07 L
}

// The levels of a tank, as a page may print them.
func ExampleTank_Limits() {
	shape, err := tanks.HorizontalCylinder(2400, 6000)
	if err != nil {
		fmt.Println(err)
		return
	}
	fuel, err := tanks.NewCorrector(840)
	if err != nil {
		fmt.Println(err)
		return
	}
	bottom, err := tanks.UnusableBottom(shape, 100, 50)
	if err != nil {
		fmt.Println(err)
		return
	}
	tank := tanks.Tank{Shape: shape, SafeFill: tanks.FillStop * tanks.Capacity(shape), Suction: bottom.Volume}
	limits, err := tank.Limits(tanks.Content{Temperature: -30}, 25, fuel)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range []struct {
		name string
		tanks.Level
	}{
		{"capacity", limits.Capacity}, {"fill stop", limits.FillStop}, {"alarm", limits.FillAlarm},
		{"fill to, at -30 °C", limits.FillNow}, {"suction", limits.Suction}, {"water warning", *limits.WaterWarning},
	} {
		fmt.Printf("%-18s %4.0f mm %5.0f L\n", line.name, *line.Depth, line.Volume)
	}
	// Output:
	// capacity           2400 mm 27143 L
	// fill stop          2166 mm 25786 L
	// alarm              2024 mm 24429 L
	// fill to, at -30 °C 2045 mm 24644 L
	// suction             150 mm   706 L
	// water warning       100 mm   387 L
}
