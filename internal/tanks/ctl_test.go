package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// fromAPI turns API gravity into density at 60 °F, with the water of the 2004 edition (999.016 kg/m³).
func fromAPI(gravity float64) float64 { return 141.5 * 999.016 / (gravity + 131.5) }

// The sample calculations of API MPMS 11.1-2004, section 11.1.6.1, as reprinted to twelve digits in the
// test data of the open library m2b/API11_1VCF (CTPLFromAPIDegFPsigTests.cs, commit 16a0143c). The
// pressure of Example 3 is below that of the air and counts as it.
func TestTheStandardsOwnExamplesComeOutDigitForDigit(t *testing.T) {
	crude := coefficients{341.0957, 0, 0}
	tests := []struct {
		name                          string
		group                         coefficients
		gravity, tF, psi              float64
		t68F, density68, alpha60, ctl float64
		fp, cpl, ctpl                 float64
	}{
		{"Example 1, crude oil", crude, 17.785, -27.7, 0,
			-27.712499233089, 946.921215770785, 0.000380407044, 1.033011591958, 0.305779891997, 1, 1.03301},
		{"Example 3, fuel oil", bandOf(fromAPI(19.4)).coefficients, 19.4, 48.04, -7.3,
			48.043878159606, 936.787006219757, 0.000406689168, 1.004858068990, 0.384339609206, 1, 1.00486},
		{"Example 5, transition", bandOf(fromAPI(48.0015)).coefficients, 48.0015, 55.9, 350,
			55.905838569594, 787.521450184768, 0.000532585048, 1.002182725702, 0.608111538634, 1.002132930093, 1.00432},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			density60 := fromAPI(tt.gravity)
			t68F := fahrenheit68(float64(units.Fahrenheit(tt.tF)))
			alpha60 := tt.group.alpha60(density60)
			near(t, "t* in °F", t68F, tt.t68F, 1e-12)
			near(t, "ρ* in kg/m³", tt.group.density68(density60), tt.density68, 1e-11)
			near(t, "α60 per °F", alpha60, tt.alpha60, 0.6e-12)
			near(t, "CTL", ctl(alpha60, t68F), tt.ctl, 0.6e-12)
			fp := compressibility(tt.group.density68(density60), t68F)
			near(t, "Fp in 1e-5 per psi", fp, tt.fp, 0.6e-12)
			near(t, "CPL", cpl(fp, tt.psi), tt.cpl, 0.6e-12)
			near(t, "CTPL", math.Round(ctl(alpha60, t68F)*cpl(fp, tt.psi)*1e5)/1e5, tt.ctpl, 1e-12)
		})
	}
}

// Printed look-up in Table 6B: API 56.5 at 67.5 °F, 0.9950. US Army Quartermaster subcourse QM5097,
// p. 51 (armyquartermaster.tpub.com/qm5097).
func TestTheArmysLookUpIn6BAgreesAtFourDecimals(t *testing.T) {
	density60 := fromAPI(56.5)
	b := bandOf(density60)
	if b.class != Gasoline {
		t.Errorf("class %s, want %s", b.class, Gasoline)
	}
	got := ctl(b.alpha60(density60), fahrenheit68(float64(units.Fahrenheit(67.5))))
	near(t, "CTL", math.Round(got*1e4)/1e4, 0.9950, 1e-9)
}

// Base 60 °F, by API gravity, 5 decimals: computed with a separate implementation.
func TestFactorsByGravityStayAsTheyWere(t *testing.T) {
	temperatures := []float64{-40, 0, 30, 50, 75, 90, 100}
	rows := []struct {
		gravity float64
		want    []float64
	}{
		{30, []float64{1.04378, 1.02643, 1.01327, 1.00444, 0.99332, 0.98662, 0.98214}},
		{36, []float64{1.04588, 1.02771, 1.01392, 1.00465, 0.99300, 0.98596, 0.98126}},
		{38, []float64{1.04675, 1.02824, 1.01419, 1.00474, 0.99286, 0.98569, 0.98090}},
		{44, []float64{1.05006, 1.03026, 1.01520, 1.00508, 0.99234, 0.98466, 0.97951}},
	}
	for _, row := range rows {
		density60 := fromAPI(row.gravity)
		alpha60 := bandOf(density60).alpha60(density60)
		for i, tF := range temperatures {
			got := ctl(alpha60, fahrenheit68(float64(units.Fahrenheit(tF))))
			near(t, "CTL", got, row.want[i], 0.51e-5)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.15g, want %.15g within %g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}
