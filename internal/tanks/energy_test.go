package tanks

import (
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/units"
)

// Btu per US gallon and MJ per litre as they are printed side by side, in the table "energy content of fuel" at
// primidi.com and liquisearch.com, in three digits; and 137,380 and 128,450 (computed, 38.29 and 35.80).
func TestHeatContentsAreOneInGallonsAndLitres(t *testing.T) {
	for _, tt := range []struct{ btu, mj, digits float64 }{
		{137_380, 38.29, 0.005},
		{128_450, 35.80, 0.005},
		{135_000, 37.6, 0.05}, // kerosene jet fuel
		{125_000, 34.8, 0.05},
		{127_500, 35.5, 0.05},
		{120_200, 33.5, 0.05},
	} {
		got := BtuPerGallon(tt.btu)
		near(t, "MJ/L", float64(got), tt.mj, tt.digits)
		near(t, "and back", got.BtuPerGallon(), tt.btu, 1e-9)
	}
}

// bizfluent.com how-6195532 turns the two figures of No. 2 diesel into 9,145.7 and 8,551.1 cal/cm³ with 252 cal to
// the Btu; a calorie of the International Table is 4.1868 J (from memory).
func TestNo2DieselHasThePrintedCalories(t *testing.T) {
	h, err := HeatContentOf("diesel-2-s15")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gross in cal/cm³", float64(h.Gross)*1000/4.1868, 9145.7, 9145.7*5e-5)
	near(t, "net in cal/cm³", float64(h.Net)*1000/4.1868, 8551.1, 8551.1*5e-5)
	near(t, "gross in Btu/gal", h.Gross.BtuPerGallon(), 137_380, 1e-6)
	near(t, "net in Btu/gal", h.Net.BtuPerGallon(), 128_450, 1e-6)
}

// 40 CFR 98, Table C-1 (docest.com/doc/637161: last updated 9 December 2016, 81 FR 89188), gross: distillate No. 2
// 0.138, kerosene and kerosene-type jet fuel 0.135 MMBtu/gal; EIA Appendix A, Table A1 (thefreelibrary.com a070422923), jet
// fuel 5.67 MMBtu/bbl; EIA's end-use factor for diesel of 2018, 137,381 Btu/gal (Monthly Energy Review, May 2019, as
// quoted at dioptionqlte.web.app).
func TestGradesHaveTheHeatOfTheOfficialTables(t *testing.T) {
	for _, tt := range []struct {
		grade         string
		btu, within   float64
		what, because string
	}{
		{"diesel-2-s15", 138_000, 700, "gross", "40 CFR 98"},
		{"diesel-2-s15", 137_381, 1.5, "gross", "EIA"},
		{"diesel-1-s15", 135_000, 0.5, "gross", "40 CFR 98, kerosene"},
		{"diesel-arctic", 135_000, 0.5, "gross", "40 CFR 98, kerosene"},
		{"jet-a1", 5.67e6 / 42, 0.5, "gross", "EIA"},
		// A dealers' table quoted at dioptionqlte.web.app has 126,000 for No. 1; its origin is not told.
		{"diesel-1-s15", 126_000, 250, "net", "dealers' table"},
		// IPCC 2006, jet kerosene 44.1 MJ/kg (as quoted at universal-converter-519.pages.dev), at 804 kg/m³.
		{"jet-a1", MegajoulesPerLitre(44.1 * 0.804).BtuPerGallon(), 0.01 * 127_000, "net", "IPCC 2006"},
	} {
		h, err := HeatContentOf(tt.grade)
		if err != nil {
			t.Fatal(err)
		}
		got := h.Gross
		if tt.what == "net" {
			got = h.Net
		}
		near(t, tt.grade+", "+tt.what+", "+tt.because, got.BtuPerGallon(), tt.btu, tt.within)
	}
}

func TestEveryGradesHeatSaysWhereItComesFrom(t *testing.T) {
	for grade, h := range heats {
		if err := h.check(); err != nil {
			t.Errorf("%s: %v", grade, err)
		}
		for _, source := range []string{h.GrossSource, h.NetSource} {
			told := func(word string) bool { return strings.Contains(source, word) }
			if !slices.ContainsFunc([]string{"CFR", "Department of Energy", "computed", "from memory"}, told) {
				t.Errorf("%s: %q", grade, source)
			}
		}
		if ratio := float64(h.Net / h.Gross); ratio < 0.93 || ratio > 0.94 {
			t.Errorf("%s: net is %v of gross", grade, ratio)
		}
	}
	_, err := HeatContentOf("diesel")
	wantInvalid(t, err, `grade: "diesel": expected one of diesel-1-s15, diesel-2-s15, diesel-arctic, diesel-en590, jet-a1`)
}

func TestAHeatContentThatCannotBeIsRefused(t *testing.T) {
	for _, h := range []HeatContent{
		{Gross: 38}, {Net: 36}, {Gross: 61, Net: 36}, {Gross: -38, Net: -40},
		{Gross: MegajoulesPerLitre(math.NaN()), Net: 36}, {Gross: 38, Net: MegajoulesPerLitre(math.Inf(1))},
	} {
		wantInvalid(t, h.check(), "heat content: ")
	}
}

// The heat of a gallon is that of a gallon at 60 °F: 1000 US gal there of No. 2 diesel, met at −30 °C, give 137.38 and
// 128.45 million Btu.
func TestEnergyIsThatOfTheLitreAtItsOwnBase(t *testing.T) {
	by := accounting(t, Procedure{}, 845)
	heat, err := HeatContentOf("diesel-2-s15")
	if err != nil {
		t.Fatal(err)
	}
	by.Heat = heat
	at60 := made(t)(by.Fuel.At(Base60F))
	cold := units.Litres(1000 * units.LitresPerUSGallon / vcf(t, at60, -30))
	q := quantity(t, byVolume(t, 5000), volumes(cold, 0, -30), by)
	near(t, "gross in million Btu", float64(q.Energy.Gross)/JoulesPerBtu, 137.38, 1e-9)
	near(t, "net in million Btu", float64(q.Energy.Net)/JoulesPerBtu, 128.45, 1e-9)
}
