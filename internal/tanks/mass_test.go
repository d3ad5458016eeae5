package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// Computed: (ρ − 1.2)/(1 − 1.2/8000). API MPMS 11.5.3 prints its own as 1.000149926·ρ − 1.199407795
// (midstreamcalculator.com, density-weight-volume-conversion, which quotes it).
func TestDieselWeighsALittleLessInAir(t *testing.T) {
	for density, want := range map[units.KgPerM3]float64{800: 798.920, 840: 838.926, 850: 848.927, 880: 878.932} {
		inAir := func(rule AirRule) float64 {
			got, err := rule.InAir(density)
			if err != nil {
				t.Fatal(err)
			}
			return float64(got)
		}
		near(t, "in air", inAir(AirExact), want, 0.0005)
		near(t, "blank rule", inAir(""), inAir(AirExact), 0)
		near(t, "API MPMS 11.5.3", inAir(AirExact), 1.000149926*float64(density)-1.199407795, 0.001)
		near(t, "by the short rule", inAir(AirLess1100), inAir(AirExact), 0.035)
	}
}

// The first page of the printed Table 56 (scribd.com/document/398437059, read as text): the factor from weight in
// vacuo to weight in air, in steps of 0.0001 over bands of density. Its air and weights were others (1952); both rules
// lie within 0.00005 of the middle of its steps from 0.6256 kg/L upwards, where its steps themselves are as wide.
func TestBothRulesGoWithThePrintedTable56(t *testing.T) {
	for _, band := range []struct {
		from, to units.KgPerM3
		factor   float64
	}{{625.6, 659.3, 0.99825}, {659.4, 697.0, 0.99835}, {697.1, 739.2, 0.99845}} {
		middle := (band.from + band.to) / 2
		for _, rule := range []AirRule{AirExact, AirLess1100} {
			inAir, err := rule.InAir(middle)
			if err != nil {
				t.Fatal(err)
			}
			near(t, string(rule), float64(inAir/middle), band.factor, 0.00005)
		}
	}
}

func TestADensityThatNoFuelHasHasNoWeight(t *testing.T) {
	for _, density := range []units.KgPerM3{0, 599, 1201, units.KgPerM3(math.NaN()), units.KgPerM3(math.Inf(1))} {
		_, err := AirExact.InAir(density)
		wantInvalid(t, err, "density: ")
	}
}

// Exact by definition: the gallon of 231 in³ (COMAR 03.03.01.09), the barrel of 42 of them; the imperial gallon, the pound and
// so the psi and the Btu from memory. The long ton: i-law.com document 414941, appendix 16, 2,240 lb or 1016.05 kg, a tonne
// 2204.621 lb there.
func TestUnitsAreExact(t *testing.T) {
	const in = 0.254 // dm
	for name, it := range map[string]struct{ got, want, within float64 }{
		"US gal":            {units.LitresPerUSGallon, 231 * in * in * in, 1e-15},
		"US gal as printed": {units.LitresPerUSGallon, 3.785411784, 0},
		"bbl":               {units.LitresPerBarrel, 158.987294928, 1e-13},
		"imperial gal":      {units.LitresPerImperialGallon, 4.54609, 0},
		"psi":               {units.KiloPascalsPerPSI, 6.894757, 5e-7},
		"Btu":               {JoulesPerBtu, 453.59237 * 4.1868 / 1.8, 1e-9},
		"long ton":          {float64(KilogramsPerLongTon), 1016.05, 0.005},
		"lb in a tonne":     {float64(KilogramsPerTonne / KilogramsPerPound), 2204.621, 0.002},
	} {
		near(t, name, it.got, it.want, it.within)
	}
}
