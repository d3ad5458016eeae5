package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestScalesConvertToTheStoredUnit(t *testing.T) {
	tests := []struct {
		dimension Dimension
		scale     string
		written   float64
		want      float64
	}{
		// 231 in³ of 25.4 mm: NIST Handbook 44, Appendix C (from memory).
		{Volume, "us_gal", 1, 231 * 25.4 * 25.4 * 25.4 / 1e6},
		// Weights and Measures Act 1985 (UK), Schedule 1: exact (from memory).
		{Volume, "imp_gal", 100, 454.609},
		// 42 US gal: the barrel of the petroleum trade.
		{Volume, "bbl", 1, 158.987294928},
		{Volume, "m3", 2, 2000},
		{Length, "in", 10, 254},
		{Length, "ft", 1, 304.8},
		// The fixed points of both scales, and their meeting point.
		{Temperature, "f", 32, 0},
		{Temperature, "f", 212, 100},
		{Temperature, "f", -40, -40},
		{Temperature, "f", 59, 15},
		// A day at 47 °F under a base of 65 °F: 18 °F·d, and 47 °F and 65 °F are 10 °C apart.
		{HeatingDegreeDays, "f", 18, 10},
	}
	for _, tt := range tests {
		s, err := tt.dimension.Scale(tt.scale)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.ToStored(tt.written); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%v %s = %v stored, want %v", tt.written, tt.scale, got, tt.want)
		}
	}
}

func TestEveryScaleGoesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]Dimension{Volume, Length, Temperature, HeatingDegreeDays, Density}).Draw(t, "dimension")
		s := rapid.SampledFrom(d.Scales).Draw(t, "scale")
		x := rapid.Float64Range(-1e7, 1e7).Draw(t, "written")
		if back := s.FromStored(s.ToStored(x)); math.Abs(back-x) > 1e-6 {
			t.Fatalf("%v %s comes back as %v", x, s.Name, back)
		}
	})
}

func TestAnUnknownUnitNamesTheOnesThatExist(t *testing.T) {
	_, err := Temperature.Scale("k")
	if want := `temperature has no unit "k": use one of c, f`; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestFahrenheitAgreesWithItsScale(t *testing.T) {
	s, err := Temperature.Scale("f")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []float64{-58, 0, 60, 302} {
		if got, want := float64(Fahrenheit(f)), s.ToStored(f); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v °F: %v and %v", f, got, want)
		}
	}
}
