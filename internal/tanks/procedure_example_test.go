package tanks_test

import (
	"fmt"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// A hydrometer reads 868 kg/m³ in diesel at −20 °C, and a local rule names Table 54B of 1980.
func ExampleProcedure_Observed() {
	p := tanks.Procedure{Edition: tanks.Edition1980, Hydrometer: true, Rounded: true}
	fuel, err := p.Observed(868, -20, 0)
	if err != nil {
		panic(err)
	}
	factor, err := fuel.VCF(-20)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.1f kg/m³ at 15 °C, %s, factor %.4f\n", fuel.Density15(), fuel.Class(), factor)
	fmt.Println(fuel.Procedure())
	// Output:
	// 844.1 kg/m³ at 15 °C, fuel oil, factor 1.0291
	// ASTM D1250-80 Table 54B, refined, to 15 °C, rounded as tables are, glass hydrometer
}

// API Example 6: a gasoline of 657.3 kg/m³ at 60 °F, at 27.3 °F and 1234.5 psi.
func ExampleProcedure_AtBase() {
	fuel, err := tanks.Procedure{Base: tanks.Base60F}.AtBase(657.3)
	if err != nil {
		panic(err)
	}
	ctpl, err := fuel.CTPL(units.Fahrenheit(27.3), 1234.5*units.KiloPascalsPerPSI)
	if err != nil {
		panic(err)
	}
	fmt.Printf("CTPL %.5f, %.1f °API\n", ctpl, fuel.APIGravity())
	// Output: CTPL 1.03922, 83.6 °API
}
