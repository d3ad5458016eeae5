package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// Tank of 2.4 m by 6 m, dip 3 mm, table 0.5 %, temperature 1 °C, 8.3e-4 per °C, in litres: computed with
// a separate implementation of the combination of GUM (JCGM 100, section 5.1), at 15 °C.
func TestSigmaCombinesDipTableAndThermometer(t *testing.T) {
	c := corrector(t, 845) // 8.3e-4 per °C at 15 °C
	for share, want := range map[units.Millimetres]struct{ volumeM3, sigma float64 }{
		0.10: {1.41, 27}, 0.25: {5.31, 46}, 0.50: {13.57, 81}, 0.75: {21.84, 117}, 0.90: {25.73, 133},
	} {
		got := measure(t, lying(t), Reading{Depth: new(share * 2400), Temperature: new(units.Celsius(15))}, c)
		near(t, "m³", float64(got.UsableAt15)/1000, want.volumeM3, 0.005)
		near(t, "sigma", float64(got.Sigma), want.sigma, 0.5)
	}
}

func TestTheFactorIsAsUncertainAsTheThermometerMakesIt(t *testing.T) {
	// 840 kg/m³: 1.02926 at −20 and 1.03750 at −30 °C (computed), 8.24e-4 per °C between them.
	near(t, "sigma", -new(corrector(t, 840)).factorSwing(-25, 2), 2*8.24e-4, 3e-6)
}

func TestStatedPrecisionsReplaceTheDefaults(t *testing.T) {
	c := corrector(t, 845)
	at := new(units.Celsius(15))
	// The box holds 10 L per mm: 20 mm are 200 L. Table 0.5 % and thermometer 8.3e-4 of 9000 L add 45 and 7.5 L.
	deep := measure(t, box(t), Reading{Depth: new(units.Millimetres(1000)), DepthPrecision: 20, Temperature: at}, c)
	near(t, "depth", float64(deep.Sigma), math.Sqrt(200*200+45*45+7.5*7.5), 0.1)
	full := measure(t, box(t), Reading{Volume: new(units.Litres(10000)), Temperature: at}, c)
	near(t, "volume by default, 1 % of 20 000 L", float64(full.Sigma), math.Sqrt(200*200+45*45+7.5*7.5), 0.1)
	sight := measure(t, box(t), Reading{Volume: new(units.Litres(10000)), VolumePrecision: 60, Temperature: at}, c)
	near(t, "volume as stated", float64(sight.Sigma), math.Sqrt(60*60+45*45+7.5*7.5), 0.1)
}

// By hand: a dip of 3 mm is 30 L; table 0.5 % and thermometer 8.3e-4 of 9000 or 8800 L.
func TestWaterTheSuctionStandsAboveAddsNoUncertainty(t *testing.T) {
	c := corrector(t, 845)
	sigma := func(water units.Millimetres) float64 {
		r := Reading{Depth: new(units.Millimetres(1000)), Water: &water, Temperature: new(units.Celsius(15))}
		return float64(measure(t, box(t), r, c).Sigma)
	}
	near(t, "below the suction at 100 mm", sigma(90), math.Sqrt(30*30+45*45+7.5*7.5), 0.1)
	// Above it two dips count.
	near(t, "above the suction", sigma(120), math.Sqrt(30*30+30*30+44*44+7.3*7.3), 0.1)
}

// By hand: where half of a normal error is cut off, its deviation is √(1/2 − 1/(2π)) = 0.58381 of the whole.
func TestAtTheEndsOfTheTankHalfTheErrorIsCutOff(t *testing.T) {
	c := corrector(t, 845)
	half := math.Sqrt(0.5 - 1/(2*math.Pi))
	empty := measure(t, box(t), Reading{Depth: new(units.Millimetres(0)), Temperature: new(units.Celsius(15))}, c)
	near(t, "empty, 3 mm of 10 L each: fuel", float64(empty.FuelSigma), 30*half, 0.003*30)
	near(t, "empty, 100 mm below the suction: nothing is usable, for certain", float64(empty.Sigma), 0, 0)
	brim := measure(t, box(t), Reading{Depth: new(units.Millimetres(2000)), Temperature: new(units.Celsius(15))}, c)
	near(t, "full", float64(brim.FuelSigma), math.Sqrt(900*half*half+100*100+math.Pow(20000*8.3e-4, 2)), 0.1)
	level := measure(t, box(t), Reading{Depth: new(units.Millimetres(100)), Temperature: new(units.Celsius(15))}, c)
	near(t, "at the suction: usable", float64(level.Sigma), 30*half, 0.003*30)
}
