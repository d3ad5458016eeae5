package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// By hand: −4, −6 and −11 °C have the mean −7 and s = √13, so that the mean is uncertain by √(13/3); the thermometer
// adds 1 °C. US Army QM5097, p. 46: readings at several levels are added up and divided by their number.
func TestSeveralTemperaturesAreAveraged(t *testing.T) {
	r := Reading{Depth: new(units.Millimetres(1000)), Temperatures: []units.Celsius{-4, -6, -11}}
	got := measure(t, box(t), r, corrector(t, 840))
	near(t, "mean", float64(got.Temperature), -7, 1e-12)
	near(t, "sigma", float64(got.TemperatureSigma), math.Sqrt(1+13./3), 1e-12)
	if got.TemperatureAssumed {
		t.Error("said to be assumed")
	}
	one := measure(t, box(t), Reading{Depth: r.Depth, Temperature: new(units.Celsius(-7))}, corrector(t, 840))
	if !(got.Sigma > one.Sigma && got.UsableAt15 == one.UsableAt15) {
		t.Errorf("several: %v ± %v, one: %v ± %v", got.UsableAt15, got.Sigma, one.UsableAt15, one.Sigma)
	}
}

func TestSeveralTemperaturesThatCannotBeAreRefused(t *testing.T) {
	depth := new(units.Millimetres(1000))
	for says, r := range map[string]Reading{
		"temperature 2: -60 °C is outside":                          {Depth: depth, Temperatures: []units.Celsius{5, -60, 70}},
		"temperature 1: NaN °C":                                     {Depth: depth, Temperatures: []units.Celsius{units.Celsius(math.NaN())}},
		"temperature: both one temperature and 2 at several levels": {Depth: depth, Temperature: new(units.Celsius(1)), Temperatures: []units.Celsius{1, 2}},
	} {
		_, err := box(t).Measure(r, corrector(t, 840), 0)
		wantInvalid(t, err, says)
	}
}

func TestSeveralEqualTemperaturesAreOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		one, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 12).Draw(t, "levels") {
			r.Temperatures = append(r.Temperatures, *r.Temperature)
		}
		r.Temperature = nil
		several, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		if one != several {
			t.Fatalf("one: %+v\nseveral: %+v", one, several)
		}
	})
}

func TestAReadingWhileFillingIsMarkedAndStillShown(t *testing.T) {
	r := Reading{Depth: new(units.Millimetres(1000)), WhileFilling: true}
	got := measure(t, box(t), r, corrector(t, 840))
	r.WhileFilling = false
	still := measure(t, box(t), r, corrector(t, 840))
	if !got.WhileFilling || still.WhileFilling || got.UsableAt15 != still.UsableAt15 {
		t.Errorf("%+v\n%+v", got, still)
	}
}
