package tanks

import (
	"math"
	"math/rand/v2"
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
	near(t, "sigma", corrector(t, 840).factorSigma(-25, 2), 2*8.24e-4, 3e-6)
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

func TestAtTheEndsOfTheTankSigmaIsOneSided(t *testing.T) {
	c := corrector(t, 845)
	empty := measure(t, box(t), Reading{Depth: new(units.Millimetres(0)), Temperature: new(units.Celsius(15))}, c)
	near(t, "empty: 3 mm of 10 L each", float64(empty.Sigma), 30, 1e-6)
	full := measure(t, box(t), Reading{Depth: new(units.Millimetres(2000)), Temperature: new(units.Celsius(-50))}, c)
	f := vcf(t, c, -50)
	near(t, "full", float64(full.Sigma), f*math.Sqrt(30*30+95*95+math.Pow(19000*8.0e-4, 2)), 1)
}

// The same readings, each disturbed at random 40 000 times: the spread of the results is the sigma.
func TestSigmaIsTheSpreadOfDisturbedReadings(t *testing.T) {
	tests := []struct {
		name               string
		depth, water       units.Millimetres
		suction            units.Litres
		temperature, sigma units.Celsius
	}{
		{"half full", 1200, 0, 0, 15, 1},
		{"near the top in the cold", 2200, 0, 900, -35, 1},
		{"water above the suction", 700, 300, 900, 5, 1},
		{"temperature assumed", 1500, 50, 900, -10, AssumedTemperaturePrecision},
	}
	c := corrector(t, 845)
	random := rand.New(rand.NewPCG(1, 2))
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tank := lying(t)
			tank.Suction = tt.suction
			r := Reading{Depth: &tt.depth, Water: &tt.water}
			if tt.sigma == TemperaturePrecision {
				r.Temperature = &tt.temperature
			}
			got, err := tank.Measure(r, c, tt.temperature)
			if err != nil {
				t.Fatal(err)
			}
			spread := spreadOf(40000, func() float64 {
				dip := func(mm units.Millimetres) units.Litres {
					return tank.Shape.Volume(mm + units.Millimetres(random.NormFloat64())*DipPrecision)
				}
				observed := float64(dip(tt.depth)-max(dip(tt.water), tt.suction)) * (1 + random.NormFloat64()*TablePrecision)
				return observed * c.factor(tt.temperature+units.Celsius(random.NormFloat64())*tt.sigma)
			})
			// The spread of 40 000 draws is itself known to 0.35 %.
			near(t, "sigma", float64(got.Sigma), spread, 0.02*spread)
		})
	}
}

// spreadOf is the standard deviation of n draws.
func spreadOf(n int, draw func() float64) float64 {
	first := draw() // taken off every draw, against cancellation
	sum, squares := 0.0, 0.0
	for range n {
		x := draw() - first
		sum += x
		squares += x * x
	}
	mean := sum / float64(n)
	return math.Sqrt(squares/float64(n) - mean*mean)
}
