package tanks

import (
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// Factors under pressure, 6 decimals: computed with a separate implementation of the standard.
func TestPressureFactorsStayAsTheyWere(t *testing.T) {
	tests := []struct {
		density15 units.KgPerM3
		t         units.Celsius
		gauge     units.KiloPascals
		want      float64
	}{
		{840, 20, 700, 1.000538},
		{850, 0, 1000, 1.000660},
		{860, -20, 2000, 1.001142},
		{840, 20, 0, 1},
		{840, 20, -50, 1}, // below the pressure of the air
	}
	for _, tt := range tests {
		got, err := corrector(t, tt.density15).CPL(tt.t, tt.gauge)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "CPL", got, tt.want, 0.6e-6)
	}
}

// Fuel is metered on its way into the day tank at the pressure of a transfer pump, below 700 kPa (common
// practice, no source). Whatever the diesel and the season, what that leaves out is under 0.06 %.
func TestThePumpsPressureMayBeLeftOut(t *testing.T) {
	for _, density := range []units.KgPerM3{815, 830, 845, 860} {
		for _, temperature := range []units.Celsius{-40, 0, 20} {
			got, err := corrector(t, density).CPL(temperature, 700)
			if err != nil {
				t.Fatal(err)
			}
			if got < 1 || got > 1.0006 {
				t.Errorf("%v kg/m³ at %v °C: CPL %v", density, temperature, got)
			}
		}
	}
}

func TestAPressureBeyondTheStandardIsRefused(t *testing.T) {
	c := corrector(t, 840)
	if _, err := c.CPL(20, 10_340); err != nil {
		t.Errorf("10 340 kPa: %v", err)
	}
	if _, err := c.CPL(20, 10_400); fault.KindOf(err) != fault.Invalid {
		t.Errorf("10 400 kPa: %v", err)
	}
	if _, err := c.CPL(-60, 100); fault.KindOf(err) != fault.Invalid {
		t.Errorf("−60 °C: %v", err)
	}
	if _, err := (Corrector{}).CPL(20, 100); err == nil {
		t.Error("a Corrector without a density gives a factor")
	}
}
