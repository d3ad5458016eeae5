package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// The first column: API gravity as US Army subcourse QM5203, p. 1-9, turns it into relative density, 4 decimals
// (armyquartermaster.tpub.com/qm5203).
func TestGravityBecomesRelativeDensity(t *testing.T) {
	for gravity, want := range map[APIGravity]float64{10: 1.0000, 40: 0.8251, 65: 0.7201} {
		for _, e := range []Edition{Edition2004, Edition1980} {
			near(t, "relative density", float64(e.RelativeDensity(gravity.Density60(e))), want, 0.51e-4)
		}
	}
}

// kg/m³ with the water of 2004, 3 decimals: computed.
func TestGravityBecomesDensity(t *testing.T) {
	for gravity, want := range map[APIGravity]float64{
		10: 999.016, 30: 875.299, 33: 859.336, 35: 849.014, 38: 833.987, 40: 824.261, 45: 800.911,
	} {
		near(t, "density", float64(gravity.Density60(Edition2004)), want, 0.0006)
		near(t, "density with the water of 1980", float64(gravity.Density60(Edition1980)), want*999.012/999.016, 0.0006)
	}
}

func TestGravityGoesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		density := units.KgPerM3(rapid.Float64Range(500, 1300).Draw(t, "density"))
		e := rapid.SampledFrom([]Edition{Edition2004, Edition1980}).Draw(t, "edition")
		byGravity := e.APIGravity(density).Density60(e)
		byRatio := e.RelativeDensity(density).Density60(e)
		if math.Abs(float64(byGravity-density)) > 1e-9 || math.Abs(float64(byRatio-density)) > 1e-9 {
			t.Fatalf("%v comes back as %v and %v", density, byGravity, byRatio)
		}
	})
}

func TestAGravityThatNothingHasIsRefused(t *testing.T) {
	for _, g := range []APIGravity{-131.5, -200, APIGravity(math.NaN()), APIGravity(math.Inf(1)), APIGravity(math.Inf(-1))} {
		if _, err := (Procedure{Base: Base60F}).AtBase(g.Density60(Edition2004)); err == nil {
			t.Errorf("%v °API is taken", g)
		}
	}
}

func TestAFuelKnowsItsGravity(t *testing.T) {
	p := Procedure{Base: Base60F}
	c := made(t)(p.AtBase(APIGravity(38.04).Density60(Edition2004)))
	near(t, "gravity", float64(c.APIGravity()), 38.04, 1e-12)
	near(t, "relative density", float64(c.RelativeDensity()), 141.5/(131.5+38.04), 1e-15)
	p.Rounded = true
	c = made(t)(p.AtBase(APIGravity(38.04).Density60(Edition2004)))
	near(t, "gravity", float64(c.APIGravity()), 38.0, 1e-12)
	near(t, "relative density", float64(c.RelativeDensity()), 0.8346, 1e-12)
}
