package tanks_test

import (
	"fmt"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// A delivery is surveyed: a shore tank is gauged by ullage at three temperatures, and the ticket is made out in
// cubic metres at 15 °C, tonnes in air and net heat, with what it rests on.
func ExampleTank_Quantity() {
	shape, err := tanks.StandingCylinder(tanks.Standing{Diameter: 10_000, Height: 8_000})
	if err != nil {
		fmt.Println(err)
		return
	}
	tank := tanks.Tank{Shape: shape, SafeFill: shape.Volume(7_600), ReferenceHeight: 8_200}
	diesel, err := tanks.NewCorrector(815)
	if err != nil {
		fmt.Println(err)
		return
	}
	heat, err := tanks.HeatContentOf("diesel-1-s15")
	if err != nil {
		fmt.Println(err)
		return
	}
	ticket, err := tank.Quantity(tanks.Reading{
		Gauge:        tanks.Tape,
		Ullage:       new(units.Millimetres(2_700)),
		WaterUllage:  new(units.Millimetres(8_180)),
		Temperatures: []units.Celsius{-17, -18, -20.5},
		Air:          new(units.Celsius(-31)),
	}, tanks.Accounting{
		Fuel:  diesel,
		Shell: tanks.Shell{Material: tanks.MildSteel},
		Air:   tanks.AirLess1100,
		Heat:  heat,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f m³ as found, %.3f m³ at 15 °C\n", ticket.GrossObserved/1000, ticket.NetStandard/1000)
	fmt.Printf("%.3f t in vacuo, %.3f t in air, %.0f GJ net\n", ticket.Net.InVacuo/1000, ticket.Net.InAir/1000, ticket.Energy.Net/1000)
	fmt.Printf("%s; %.1f °C, VCF %.5f, shell %.0f °C %.6f; in air by %s\n", ticket.Basis.Procedure, ticket.Basis.Temperature,
		ticket.Basis.VCF, *ticket.Basis.ShellTemperature, ticket.Basis.ShellFactor, ticket.Basis.Air)
	// Output:
	// 430.062 m³ as found, 442.839 m³ at 15 °C
	// 360.914 t in vacuo, 360.427 t in air, 15587 GJ net
	// API MPMS 11.1-2004, refined, to 15 °C, unrounded; -18.5 °C, VCF 1.02971, shell -20 °C 0.999219; in air by density less 1.1 kg/m³
}
