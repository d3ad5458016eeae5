package tanks_test

import (
	"fmt"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// A lying tank is dipped on a winter morning and turned into usable fuel at 15 °C.
func ExampleTank_Measure() {
	shape, err := tanks.HorizontalCylinder(2400, 6000)
	if err != nil {
		fmt.Println(err)
		return
	}
	tank := tanks.Tank{Shape: shape, SafeFill: shape.Volume(2200), Suction: shape.Volume(150)}
	diesel, err := tanks.NewCorrector(840)
	if err != nil {
		fmt.Println(err)
		return
	}
	content, err := tank.Measure(tanks.Reading{
		Depth:       new(units.Millimetres(1500)),
		Water:       new(units.Millimetres(30)),
		Temperature: new(units.Celsius(-25)),
	}, diesel, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("observed %.0f L, of it usable %.0f L\n", content.Observed, content.Usable)
	fmt.Printf("usable at 15 °C: %.0f ± %.0f L\n", content.UsableAt15, content.Sigma)
	// Output:
	// observed 17846 L, of it usable 17140 L
	// usable at 15 °C: 17712 ± 100 L
}

// The room for a delivery is counted at the temperature to which the fuel may warm.
func ExampleTank_Room() {
	shape, err := tanks.VolumeOnly(50000)
	if err != nil {
		fmt.Println(err)
		return
	}
	tank := tanks.Tank{Shape: shape, SafeFill: 47500, Suction: 2000}
	diesel, err := tanks.NewCorrector(840)
	if err != nil {
		fmt.Println(err)
		return
	}
	content, err := tank.Measure(tanks.Reading{
		Volume:      new(units.Litres(20000)),
		Temperature: new(units.Celsius(-30)),
	}, diesel, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, warmTo := range []units.Celsius{-30, 20} {
		room, err := tank.Room(content, warmTo, diesel)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("when it warms to %v °C: %.0f L at 15 °C\n", warmTo, room)
	}
	// Output:
	// when it warms to -30 °C: 28531 L at 15 °C
	// when it warms to 20 °C: 26549 L at 15 °C
}

// A strapped tank is known by its table; between two rows the volume is linear.
func ExampleCapacityTable() {
	shape, err := tanks.CapacityTable([]tanks.Point{
		{Depth: 100, Volume: 310}, {Depth: 200, Volume: 860}, {Depth: 300, Volume: 1540},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f L at 150 mm, %.0f L when full\n", shape.Volume(150), tanks.Capacity(shape))
	// Output:
	// 585 L at 150 mm, 1540 L when full
}

// A densitometer reads 850.0 kg/m³ in fuel at 5 °C.
func ExampleDensity15() {
	density, err := tanks.Density15(850, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	diesel, err := tanks.NewCorrector(density)
	if err != nil {
		fmt.Println(err)
		return
	}
	factor, err := diesel.VCF(-40)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kg/m³ at 15 °C, class %s, VCF at −40 °C %.5f\n", density, diesel.Class(), factor)
	// Output:
	// 842.9 kg/m³ at 15 °C, class fuel oil, VCF at −40 °C 1.04549
}
