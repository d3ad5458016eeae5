package tanks

import (
	"math"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

func FuzzCorrection(f *testing.F) {
	f.Add(byte(0), 840.0, -40.0, 0.0, 500e-6)
	f.Add(byte(1), 838.7068, 149.9, 10_342.0, 0.0)
	f.Add(byte(7), 770.8457, -50.0, -101.0, 0.0)
	f.Add(byte(12), 611.2, 15.0, 700.0, 0.0)
	f.Add(byte(23), math.NaN(), math.Inf(-1), math.NaN(), math.NaN())
	f.Add(byte(40), 1163.86, 1e-300, 1e-300, 930e-6)
	f.Add(byte(50), 1001.86, 62.0, 1e-300, 0.00093) // a root that is met to the last bit
	f.Add(byte(45), 610.6, 150.0, 10_342.0, 230e-6)
	f.Fuzz(func(t *testing.T, rules byte, density, at, gauge, alpha60 float64) {
		p := Procedure{
			Group:      []Group{Refined, Crude, Lubricant, Special}[rules%4],
			Base:       []Base{Base15C, Base20C, Base60F, Base15C}[rules/4%4],
			Edition:    []Edition{Edition2004, Edition1980}[rules/16%2],
			Rounded:    rules/32%2 == 1,
			Hydrometer: rules/64%2 == 1,
		}
		if p.Group == Special {
			p.Alpha60 = alpha60
		}
		celsius, pressure := units.Celsius(at), units.KiloPascals(gauge)
		c, err := p.Observed(units.KgPerM3(density), celsius, pressure)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatal(err)
			}
		} else {
			sound(t, c, celsius, pressure)
		}
		if c, err := p.AtBase(units.KgPerM3(density)); err == nil && celsius >= Coldest && celsius <= Hottest {
			sound(t, c, celsius, 0)
		}
	})
}

// sound checks that every figure of a corrector is a plausible number.
func sound(t *testing.T, c Corrector, at units.Celsius, gauge units.KiloPascals) {
	t.Helper()
	factor, err1 := c.VCF(at)
	cpl, err2 := c.CPL(at, gauge)
	ctpl, err3 := c.CTPL(at, gauge)
	if err1 != nil || err2 != nil || err3 != nil || !(factor > 0.7 && factor < 1.2) || !(cpl >= 1 && cpl < 1.2) || !(ctpl >= factor*(1-1e-4)) {
		t.Fatalf("%v: VCF %v, CPL %v, CTPL %v: %v %v %v", c, factor, cpl, ctpl, err1, err2, err3)
	}
	for _, b := range []Base{Base15C, Base20C, Base60F} {
		if d := c.Density(b); !(d > 600 && d < 1200) {
			t.Fatalf("%v: %v kg/m³ at %s", c, d, b)
		}
	}
}
