package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// bandOf, alpha60 and ctl give the steps of the edition of 2004 one by one, base 60 °F.
func bandOf(density60 float64) *band { return refined2004.bandOf(density60) }

func (k coefficients) alpha60(density60 float64) float64 {
	alpha, _ := k.expansionAt(k.density68(density60))
	return alpha
}

func ctl(alpha60, t68F float64) float64 { return math.Exp(scale68F.expansion(alpha60, t68F)) }

// fromAPI turns API gravity into density at 60 °F, with the water of the 2004 edition (999.016 kg/m³).
func fromAPI(gravity float64) float64 { return float64(APIGravity(gravity).Density60(Edition2004)) }

// The sample calculations of API MPMS 11.1-2004, section 11.1.6.1, Examples 1 to 6, as reprinted to twelve digits in
// the test data of the open library m2b/API11_1VCF (CTPLFromAPIDegFPsigTests.cs, commit 16a0143c). The
// pressure of Example 3 is below that of the air and counts as it; the reprint of Example 2 gives ρ* to eleven digits.
func TestTheStandardsOwnExamplesComeOutDigitForDigit(t *testing.T) {
	tests := []struct {
		name                          string
		group                         Group
		class                         Class
		density60, tF, psi            float64
		t68F, density68, alpha60, ctl float64
		fp, cpl, ctpl                 float64
	}{
		{"Example 1", Crude, crudeClass, fromAPI(17.785), -27.7, 0,
			-27.712499233089, 946.921215770785, 0.000380407044, 1.033011591958, 0.305779891997, 1, 1.03301},
		{"Example 2", Crude, crudeClass, fromAPI(-10), 301.93, 1500,
			301.993163042978, 1163.46509372, 0.000251982006, 0.938051116886, 0.427958509999, 1.006460852301, 0.94411},
		{"Example 3", Refined, FuelOil, fromAPI(19.4), 48.04, -7.3,
			48.043878159606, 936.787006219757, 0.000406689168, 1.004858068990, 0.384339609206, 1, 1.00486},
		{"Example 4", Refined, Jet, float64(RelativeDensity(0.7943).Density60(Edition2004)), 85, 247.3,
			85.013358222928, 793.521270459968, 0.000524557068, 0.986832406683, 0.664706197066, 1.001646525013, 0.98846},
		{"Example 5", Refined, Transition, fromAPI(48.0015), 55.9, 350,
			55.905838569594, 787.521450184768, 0.000532585048, 1.002182725702, 0.608111538634, 1.002132930093, 1.00432},
		{"Example 6", Refined, Gasoline, 657.3, 27.3, 1234.5,
			27.298898616759, 657.303689061482, 0.000816362130, 1.026475833518, 0.993527440282, 1.012417396817, 1.03922},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			at, gauge := units.Fahrenheit(tt.tF), units.KiloPascals(tt.psi*units.KiloPascalsPerPSI)
			p := Procedure{Group: tt.group, Base: Base60F}
			c := made(t)(p.AtBase(units.KgPerM3(tt.density60)))
			if c.Class() != tt.class {
				t.Errorf("class %s, want %s", c.Class(), tt.class)
			}
			near(t, "t* in °F", fahrenheit68(float64(at)), tt.t68F, 1e-12)
			density68 := 1e-11
			if tt.name == "Example 2" {
				density68 = 0.5e-8
			}
			near(t, "ρ* in kg/m³", c.entered, tt.density68, density68)
			near(t, "α60 per °F", c.alpha, tt.alpha60, 0.6e-12)
			near(t, "CTL", figure(t)(c.VCF(at)), tt.ctl, 0.6e-12)
			near(t, "Fp in 1e-5 per psi", squeezePSI.factor(c.entered, fahrenheit68(float64(at))), tt.fp, 0.6e-12)
			near(t, "CPL", figure(t)(c.CPL(at, gauge)), tt.cpl, 0.6e-12)
			near(t, "CTPL", math.Round(figure(t)(c.CTPL(at, gauge))*1e5)/1e5, tt.ctpl, 1e-12)

			p.Rounded = true // to the table's steps: not the example's inputs, but within what those steps lose
			near(t, "CTPL rounded", figure(t)(made(t)(p.AtBase(units.KgPerM3(tt.density60))).CTPL(at, gauge)), tt.ctpl, 1e-4)
		})
	}
}

// Printed look-up in Table 6B: API 56.5 at 67.5 °F, 0.9950. US Army Quartermaster subcourse QM5097,
// p. 51 (armyquartermaster.tpub.com/qm5097).
func TestTheArmysLookUpIn6BAgreesAtFourDecimals(t *testing.T) {
	for _, edition := range []Edition{Edition2004, Edition1980} {
		p := Procedure{Edition: edition, Base: Base60F}
		c := made(t)(p.AtBase(APIGravity(56.5).Density60(edition)))
		if c.Class() != Gasoline {
			t.Errorf("class %s, want %s", c.Class(), Gasoline)
		}
		near(t, "CTL", math.Round(figure(t)(c.VCF(units.Fahrenheit(67.5)))*1e4)/1e4, 0.9950, 1e-9)
	}
}

// Base 60 °F, by API gravity, 5 decimals: computed with a separate implementation.
func TestFactorsByGravityStayAsTheyWere(t *testing.T) {
	temperatures := []float64{-40, 0, 30, 50, 75, 90, 100}
	rows := []struct {
		gravity APIGravity
		want    []float64
	}{
		{30, []float64{1.04378, 1.02643, 1.01327, 1.00444, 0.99332, 0.98662, 0.98214}},
		{32, []float64{1.04448, 1.02686, 1.01349, 1.00451, 0.99321, 0.98640, 0.98185}},
		{34, []float64{1.04518, 1.02728, 1.01370, 1.00458, 0.99311, 0.98618, 0.98155}},
		{35, []float64{1.04553, 1.02750, 1.01381, 1.00462, 0.99305, 0.98607, 0.98141}},
		{36, []float64{1.04588, 1.02771, 1.01392, 1.00465, 0.99300, 0.98596, 0.98126}},
		{38, []float64{1.04675, 1.02824, 1.01419, 1.00474, 0.99286, 0.98569, 0.98090}},
		{40, []float64{1.04784, 1.02891, 1.01452, 1.00486, 0.99269, 0.98535, 0.98044}},
		{42, []float64{1.04895, 1.02958, 1.01486, 1.00497, 0.99252, 0.98500, 0.97998}},
		{44, []float64{1.05006, 1.03026, 1.01520, 1.00508, 0.99234, 0.98466, 0.97951}},
	}
	for _, row := range rows {
		c := made(t)(Procedure{Base: Base60F}.AtBase(row.gravity.Density60(Edition2004)))
		for i, tF := range temperatures {
			near(t, "CTL", figure(t)(c.VCF(units.Fahrenheit(tF))), row.want[i], 0.51e-5)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.15g, want %.15g within %g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}

// made gives a corrector that there is, figure a number.
func made(t testing.TB) func(Corrector, error) Corrector {
	return func(c Corrector, err error) Corrector {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
}

func figure(t testing.TB) func(float64, error) float64 {
	return func(x float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}
