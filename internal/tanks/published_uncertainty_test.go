package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// The end gauge of GUM (JCGM 100), H.1, in nm: components and combined uncertainty of 32 nm as the documentation of the
// open library MSLNZ/GTC prints them (docs/API/GUM_H1.rst, commit 6d606b14).
func TestTheEndGaugeOfTheGuideIsUncertainByThirtyTwoNanometres(t *testing.T) {
	standard := 5.0000623e7
	ofExpansion := standard * 0.1 * 1e-6 / math.Sqrt(3)
	ofTemperature := standard * 11.5e-6 * 0.05 / math.Sqrt(3)
	near(t, "difference of expansions", ofExpansion, 2.88679, 5e-5)
	near(t, "difference of temperatures", ofTemperature, 16.599, 5e-4)
	near(t, "comparator", rootSum(5.8, 3.9, 6.7), 9.7, 0.05) // GUM, H.1.3.2, from memory
	near(t, "combined", rootSum(25, ofTemperature, 6.7, 5.8, 3.9, ofExpansion), 32, 0.5)
}

// Resistance, reactance and impedance of GUM (JCGM 100), H.2: V, I and φ with their correlations, and
// R = 127.732(70), X = 219.85(30), Z = 254.26(24) Ω, as the documentation of the open library MSLNZ/GTC prints them
// (docs/API/GUM_H2.rst, commit 6d606b14). The correlated inputs are made of three independent quantities that are common to
// them, which a sum adds with their signs.
func TestCorrelatedInputsOfTheGuideAddUpWithTheirSigns(t *testing.T) {
	const v, i, phi = 4.999, 19.661e-3, 1.04446
	u := [3]float64{3.2e-3, 9.5e-6, 7.5e-4}
	const vi, vphi, iphi = -0.36, 0.86, -0.65
	second := math.Sqrt(1 - vi*vi)
	third := (iphi - vi*vphi) / second
	root := [3][3]float64{{1}, {vi, second}, {vphi, third, math.Sqrt(1 - vphi*vphi - third*third)}} // of the correlations
	tests := []struct {
		name        string
		value       float64
		sensitivity [3]float64 // to V, I and φ
		want, sigma float64
		digit       float64
	}{
		{"R", v * math.Cos(phi) / i, [3]float64{math.Cos(phi) / i, -v * math.Cos(phi) / (i * i), -v * math.Sin(phi) / i}, 127.732, 0.070, 0.001},
		{"X", v * math.Sin(phi) / i, [3]float64{math.Sin(phi) / i, -v * math.Sin(phi) / (i * i), v * math.Cos(phi) / i}, 219.85, 0.30, 0.01},
		{"Z", v / i, [3]float64{1 / i, -v / (i * i), 0}, 254.26, 0.24, 0.01},
	}
	for _, tt := range tests {
		var inputs []Estimate
		for a := range 3 {
			var parts []Part
			for b := range 3 {
				parts = append(parts, Part{Source: Source(rune('a' + b)), Common: true, Sigma: 1,
					Contribution: units.LitresAt15(tt.sensitivity[a] * u[a] * root[a][b])})
			}
			inputs = append(inputs, Estimate{Parts: parts})
		}
		near(t, tt.name, tt.value, tt.want, tt.digit/2)
		near(t, "u of "+tt.name, float64(Sum(inputs...).Sigma), tt.sigma, tt.digit/2)
	}
}

// Ten resistors of 1000 Ω calibrated against one standard known to 100 mΩ make 10 kΩ known to 1 Ω, and not to 0.32 Ω as if
// they were independent: GUM (JCGM 100), 5.2.2, example, from memory. 5 ± 0.1 and 10 ± 0.2 of one source
// add up to 15 ± 0.3: issue 29 of the open library lmfit/uncertainties.
func TestOneErrorCommonToAllAddsUpWithoutRoots(t *testing.T) {
	known := func(value, sigma float64, common bool) Estimate {
		return Estimate{Litres: units.LitresAt15(value), Parts: []Part{
			{Source: FuelDensity, Sigma: 1, Common: common, Contribution: units.LitresAt15(sigma)}}}
	}
	sum := func(common bool) Estimate {
		var all []Estimate
		for range 10 {
			all = append(all, known(1000, 0.1, common))
		}
		return Sum(all...)
	}
	near(t, "one standard", float64(sum(true).Sigma), 1, 1e-12)
	near(t, "a standard each", float64(sum(false).Sigma), 0.32, 0.005)
	near(t, "value", float64(sum(true).Litres), 10000, 0)
	near(t, "5 and 10", float64(Sum(known(5, 0.1, true), known(10, 0.2, true)).Sigma), 0.3, 1e-12)
	near(t, "5 less 5", float64(Sum(known(5, 0.1, true), known(-5, -0.1, true)).Sigma), 0, 0)
}

// A value that may lie anywhere within limits: 16.52 ± 0.40 (copper, 1e-6/°C) has 0.23, GUM (JCGM 100), 4.3.7, example 1,
// from memory. EN 590 allows 820 to 845 kg/m³; mild steel expands by 11.16e-6 per °C.
func TestPrecisionsOfLimitsAreTheirRootMeanSquare(t *testing.T) {
	near(t, "copper", 0.40/math.Sqrt(3), 0.23, 0.005)
	near(t, "density", float64(DensityPrecision), (845-820)/math.Sqrt(12), 0.05)
	near(t, "shell", ShellPrecision, 11.16e-6/math.Sqrt(3), 0.005e-6)
}

// An inspector's chart, commerce.state.wi.us, page 18669 of the inventory training: 33 in are 337 gal, 34 in 345 gal, so 33 1/4 in
// 339 gal; an inch is worth 8 gal, and an eighth of one, what a stick is read to, one gallon.
func TestAnInchOfTheInspectorsChartIsWorthEightGallons(t *testing.T) {
	const inch = units.MillimetresPerInch
	s := shape(t)(CapacityTable([]Point{{33 * inch, 337 * units.LitresPerUSGallon}, {34 * inch, 345 * units.LitresPerUSGallon}}))
	tank := Tank{Shape: s, SafeFill: Capacity(s)}
	r := Reading{Depth: new(units.Millimetres(33.25 * inch)), DepthPrecision: inch / 16, Temperature: new(units.Celsius(15))}
	got, err := tank.Stock(r, corrector(t, 840), 15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gallons", float64(got.Litres)/units.LitresPerUSGallon, 339, 1e-9)
	reading := part(t, got, LiquidReading, "")
	near(t, "gallons an inch", reading.Sensitivity*float64(inch)/units.LitresPerUSGallon, 8, 1e-6)
	near(t, "gallons of 1/16 in", float64(reading.Contribution)/units.LitresPerUSGallon, 0.5, 1e-7)
}

// Litres a millimetre, and the volumes: computed with a separate implementation, for a tank of 2.4 m by 6 m.
func TestTheReadingsSensitivityIsTheSurface(t *testing.T) {
	for share, want := range map[units.Millimetres]float64{0.10: 8.6, 0.25: 12.5, 0.50: 14.4} {
		got, err := lying(t).Stock(Reading{Depth: new(share * 2400), Temperature: new(units.Celsius(15))}, corrector(t, 845), 15)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "L/mm", part(t, got, LiquidReading, "").Sensitivity, want, 0.05)
	}
}

// part finds a line of a table.
func part(t testing.TB, e Estimate, s Source, m Moment) Part {
	t.Helper()
	for _, p := range e.Parts {
		if p.Source == s && p.Moment == m {
			return p
		}
	}
	t.Fatalf("no part %s %s in %+v", s, m, e.Parts)
	return Part{}
}
