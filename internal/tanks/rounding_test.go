package tanks

import (
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// The steps are from memory, save those that Procedure names a source for; worked by hand.
func TestTablesRoundWhatGoesInAndWhatComesOut(t *testing.T) {
	tests := []struct {
		name             string
		p                Procedure
		density          units.KgPerM3
		at               units.Celsius
		asIf             units.KgPerM3
		asIfAt           units.Celsius
		factorDecimals   float64
		gauge, asIfGauge units.KiloPascals
	}{
		{"2004 in °C", Procedure{}, 840.04, 10.02, 840, 10, 1e5, 702.4, 700},
		{"2004, halves away from zero", Procedure{}, 840.05, -10.025, 840.1, -10.05, 1e5, 702.5, 705},
		{"2004 in °F", Procedure{Base: Base60F}, 840.04, units.Fahrenheit(10.04), 840, units.Fahrenheit(10), 1e5,
			100.4 * units.KiloPascalsPerPSI, 100 * units.KiloPascalsPerPSI},
		{"1980 in °C", Procedure{Edition: Edition1980}, 842.8, 22.6, 843, 22.5, 1e4, 702.4, 700},
		{"1980 to 20 °C", Procedure{Edition: Edition1980, Base: Base20C}, 842.7, 22.37, 842.5, 22.25, 1e4, 702.4, 700},
		{"1980 in °F", Procedure{Edition: Edition1980, Base: Base60F}, APIGravity(56.3).Density60(Edition1980), units.Fahrenheit(67.3),
			APIGravity(56.5).Density60(Edition1980), units.Fahrenheit(67.5), 1e4, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rounded := tt.p
			rounded.Rounded = true
			c := made(t)(rounded.AtBase(tt.density))
			plain := made(t)(tt.p.AtBase(tt.asIf))
			if tt.p.Edition == Edition1980 { // whose expansion is rounded too
				plain.alpha = nearest(plain.alpha, 1e7)
				plain.toBase = plain.logTo(plain.procedure.Base)
			}
			near(t, "VCF", vcf(t, c, tt.at), nearest(vcf(t, plain, tt.asIfAt), tt.factorDecimals), 1e-12)
			near(t, "CPL", figure(t)(c.CPL(tt.at, tt.gauge)), nearest(figure(t)(plain.CPL(tt.asIfAt, tt.asIfGauge)), tt.factorDecimals), 1e-12)
			near(t, "CTPL", figure(t)(c.CTPL(tt.at, tt.gauge)), nearest(figure(t)(plain.CTPL(tt.asIfAt, tt.asIfGauge)), tt.factorDecimals), 1e-12)
		})
	}
}

// The Army's own look-up: 56.3 °API is entered as 56.5 in Table 6B at 67.5 °F: 0.9950 (US Army QM5097, p. 51).
func TestTheArmyEntersTable6BByHalfDegrees(t *testing.T) {
	p := Procedure{Edition: Edition1980, Base: Base60F, Rounded: true}
	c := made(t)(p.AtBase(APIGravity(56.3).Density60(Edition1980)))
	near(t, "VCF", vcf(t, c, units.Fahrenheit(67.5)), 0.9950, 1e-12)
	near(t, "gravity", float64(c.APIGravity()), 56.3, 1e-9)
}

func TestRoundingMovesNoFactorByMoreThanItsSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := fuels(t)
		p.Rounded = true
		rounded, err := p.AtBase(units.KgPerM3(c.density))
		if err != nil {
			t.Skip("rounded out of the table")
		}
		at := units.Celsius(rapid.Float64Range(-40, 50).Draw(t, "temperature"))
		a, err1 := c.VCF(at)
		b, err2 := rounded.VCF(at)
		most := 2e-4
		if p.Edition == Edition1980 {
			most = 2e-3 // half a degree API and a quarter of a degree Fahrenheit of the lightest
		}
		if err1 != nil || err2 != nil || a-b > most || b-a > most {
			t.Fatalf("VCF %v is rounded to %v: %v %v", a, b, err1, err2)
		}
	})
}
