package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// accounting makes the rules for a fuel by a procedure.
func accounting(t testing.TB, p Procedure, density units.KgPerM3) Accounting {
	t.Helper()
	return Accounting{Fuel: made(t)(p.AtBase(density))}
}

func quantity(t testing.TB, tank Tank, r Reading, by Accounting) Quantity {
	t.Helper()
	q, err := tank.Quantity(r, by)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// byVolume is a tank known by its capacity, whose volumes others have looked up in its table.
func byVolume(t testing.TB, capacity units.Litres) Tank {
	return Tank{Shape: shape(t)(VolumeOnly(capacity)), SafeFill: capacity}
}

func volumes(liquid, water units.Litres, at units.Celsius) Reading {
	return Reading{Volume: &liquid, WaterVolume: &water, Temperature: &at}
}

var tables1980 = Procedure{Edition: Edition1980, Rounded: true}

// The cargo of a tanker as an exercise gives it, geocaching.com/geocache/GC1RNPT (a hobby page, not an official
// document, but it closes to the kilogram): gasoline and gasoil by Table 54B, bill of lading 8161.216 t in
// vacuo. With factors that are not rounded the sum is 8160.932 t (computed): a ticket is only as good as the record of
// the precision of its factor.
func TestAnUllageReportClosesToTheKilogram(t *testing.T) {
	cargo := []struct {
		observed, water, at float64
		density             units.KgPerM3
		gross, mass         float64 // computed, m³ and t
	}{
		{8834839, 46, 22.0, 721.4, 8756.163, 6316.696},
		{2202606, 169, 22.5, 842.8, 2188.562, 1844.520},
	}
	sum := func(p Procedure, eachToo bool) (tonnes float64) {
		for _, c := range cargo {
			q := quantity(t, byVolume(t, 1e7), volumes(units.Litres(c.observed), units.Litres(c.water), units.Celsius(c.at)),
				accounting(t, p, c.density))
			if eachToo {
				near(t, "gross observed in L", float64(q.GrossObserved), c.observed-c.water, 1e-6)
				near(t, "gross standard in m³", float64(q.GrossStandard)/1000, c.gross, 0.0005)
				near(t, "t in vacuo", float64(q.Net.InVacuo)/1000, c.mass, 0.0005)
			}
			tonnes += float64(q.Gross.InVacuo) / 1000
		}
		return tonnes
	}
	near(t, "bill of lading, factors of four decimals", sum(tables1980, true), 8161.216, 0.0005)
	near(t, "factors unrounded, 1980", sum(Procedure{Edition: Edition1980}, false), 8160.932, 0.0005)
}

// Bunker tickets in tonnes in air, by Table 54B and the density less 0.0011: fuel oil (scribd.com/document/491914546 and
// praveenkumartyagi.wordpress.com 2010/10/22; fr.scribd.com/document/370250180), and case 1 of "Cargo calculations"
// (pilihbajumuslim.com, document 741025355, read as text), which asks for the volume of 1875 t and rounds every factor
// to four digits.
func TestBunkerTicketsComeOutInTonnesInAir(t *testing.T) {
	for _, ticket := range []struct {
		cubicMetres float64
		density     units.KgPerM3
		at          units.Celsius
		vcf, tonnes float64
		within      float64
	}{
		{161.68, 990.3, 34, 0.9870, 157.85, 0.005}, // 157.8547 computed
		{161.28, 992.0, 36, 0.9857, 157.53, 0.005},
		{2567, 745.5, 30.5, 0.9811, 1875, 0.5 * 0.7303}, // the volume is rounded to 1 m³
	} {
		by := accounting(t, tables1980, ticket.density)
		by.Air = AirLess1100
		q := quantity(t, byVolume(t, 1e7), volumes(units.Litres(1000*ticket.cubicMetres), 0, ticket.at), by)
		near(t, "VCF", q.Basis.VCF, ticket.vcf, 1e-9)
		near(t, "t in air", float64(q.Gross.InAir)/1000, ticket.tonnes, ticket.within)
	}
}

// US Army Quartermaster subcourse QM5097, p. 51 (armyquartermaster.tpub.com/qm5097), with its rounding: 17,181.4 gal less
// 255.6 gal of water are 16,925.8 gal; API 56.3 is looked up as 56.5, at 67.5 °F 0.9950: 16,841.2 gal, reported as
// 16,841 gal at 60 °F.
func TestTheArmysGaugingComesOutInGallonsAt60F(t *testing.T) {
	const gal = units.LitresPerUSGallon
	p := Procedure{Edition: Edition1980, Base: Base60F, Rounded: true}
	q := quantity(t, byVolume(t, 20000*gal), volumes(17181.4*gal, 255.6*gal, units.Fahrenheit(67.5)),
		accounting(t, p, APIGravity(56.3).Density60(Edition1980)))
	near(t, "VCF", q.Basis.VCF, 0.9950, 1e-12)
	near(t, "observed gal", float64(q.GrossObserved)/gal, 16925.8, 1e-6)
	near(t, "gal at 60 °F", float64(q.GrossStandard)/gal, 16841.2, 0.05)
	if q.Basis.Procedure.Base != Base60F {
		t.Errorf("the base is recorded as %s", q.Basis.Procedure.Base)
	}
}

// A surveyor's training text, scribd.com/document/452501815: 1000 m³ at 15 °C of 0.8560 are 856 t in vacuo and
// 854.9 t in air.
func TestAThousandCubicMetresWeighWhatTheTextbookSays(t *testing.T) {
	for _, air := range []AirRule{AirExact, AirLess1100} {
		by := accounting(t, Procedure{}, 856)
		by.Air = air
		q := quantity(t, byVolume(t, 2e6), volumes(1e6, 0, 15), by)
		near(t, "t in vacuo", float64(q.Gross.InVacuo)/1000, 856, 1e-9)
		near(t, string(air)+": t in air", float64(q.Gross.InAir)/1000, 854.9, 0.05)
	}
}

// By hand, at 15 °C where the factor is 1: 10 L per mm, 1000 mm of liquid, 100 mm of water, sediment 0.5 %.
func TestTheChainGoesFromTheTotalObservedToTheNetStandard(t *testing.T) {
	by := accounting(t, Procedure{}, 840)
	by.Sediment = 0.5
	by.Heat = HeatContent{Gross: 38, Net: 36}
	q := quantity(t, box(t), Reading{
		Depth: new(units.Millimetres(1000)), Water: new(units.Millimetres(100)), Temperature: new(units.Celsius(15)), Gauge: Stick, WhileFilling: true,
	}, by)
	for name, it := range map[string]struct{ got, want float64 }{
		"total observed":   {float64(q.TotalObserved), 10000},
		"free water":       {float64(q.FreeWater), 1000},
		"gross observed":   {float64(q.GrossObserved), 9000},
		"gross standard":   {float64(q.GrossStandard), 9000},
		"net standard":     {float64(q.NetStandard), 8955},
		"total calculated": {float64(q.TotalCalculated), 10000},
		"gross in vacuo":   {float64(q.Gross.InVacuo), 7560},
		"net in vacuo":     {float64(q.Net.InVacuo), 7522.2},
		"net in air":       {float64(q.Net.InAir), 8.955 * (840 - 1.2) / (1 - 1.2/8000)},
		"gross heat":       {float64(q.Energy.Gross), 8955 * 38},
		"net heat":         {float64(q.Energy.Net), 8955 * 36},
		"shell":            {q.Basis.ShellFactor, 1},
	} {
		near(t, name, it.got, it.want, 1e-6)
	}
	if b := q.Basis; b.Gauge != Stick || !b.WhileFilling || b.Air != AirExact || b.Sediment != 0.5 || b.TemperatureAssumed || b.ShellTemperature != nil {
		t.Errorf("recorded: %+v", b)
	}
}

func TestOneTankIsOneMassByWayOfEveryBase(t *testing.T) {
	r := volumes(50000, 0, -20)
	at15 := accounting(t, Procedure{}, 840)
	at15.Heat = HeatContent{Gross: 38, Net: 36, Base: Base60F}
	want := quantity(t, byVolume(t, 60000), r, at15)
	for _, base := range []Base{Base20C, Base60F} {
		by := at15
		by.Fuel = made(t)(at15.Fuel.At(base))
		got := quantity(t, byVolume(t, 60000), r, by)
		near(t, "kg by way of "+string(base), float64(got.Gross.InVacuo), float64(want.Gross.InVacuo), 1e-5)
		near(t, "MJ by way of "+string(base), float64(got.Energy.Net), float64(want.Energy.Net), 1e-3)
		if got.GrossStandard == want.GrossStandard {
			t.Errorf("%s: the litres are those at 15 °C", base)
		}
	}
}

func TestAnAssumedTemperatureIsRecorded(t *testing.T) {
	by := accounting(t, Procedure{}, 840)
	by.Assumed = -12
	q := quantity(t, box(t), Reading{Depth: new(units.Millimetres(1000))}, by)
	if !q.Basis.TemperatureAssumed || q.Basis.Temperature != -12 || q.Energy != nil {
		t.Errorf("%+v", q.Basis)
	}
}

func TestAQuantityThatCannotBeIsRefused(t *testing.T) {
	good := accounting(t, Procedure{}, 840)
	with := func(change func(*Accounting)) Accounting {
		by := good
		change(&by)
		return by
	}
	r := Reading{Depth: new(units.Millimetres(1000)), Temperature: new(units.Celsius(5))}
	lyingShell := with(func(a *Accounting) { a.Shell = Shell{Material: MildSteel, Insulated: true} })
	tests := []struct {
		name string
		tank Tank
		r    Reading
		by   Accounting
		says string
	}{
		{"no fuel", box(t), r, Accounting{}, "before a density was set"},
		{"no tank", Tank{}, r, good, "shape: it has none"},
		{"no reading", box(t), Reading{}, good, "neither a depth nor a volume"},
		{"too cold", box(t), Reading{Depth: r.Depth, Temperature: new(units.Celsius(-60))}, good, "temperature: -60 °C"},
		{"two temperatures", box(t), Reading{Depth: r.Depth, Temperature: r.Temperature, Temperatures: []units.Celsius{1}}, good, "both one temperature and 1"},
		{"sediment", box(t), r, with(func(a *Accounting) { a.Sediment = 101 }), "sediment: 101 %: expected 0 to 100 %"},
		{"sediment no number", box(t), r, with(func(a *Accounting) { a.Sediment = math.NaN() }), "sediment: NaN %"},
		{"air rule", box(t), r, with(func(a *Accounting) { a.Air = "Table 56" }), `air rule: "Table 56" is not known`},
		{"heat", box(t), r, with(func(a *Accounting) { a.Heat = HeatContent{Gross: 36, Net: 38} }), "heat content: net 38 and gross 36"},
		{"heat's base", box(t), r, with(func(a *Accounting) { a.Heat = HeatContent{Gross: 38, Net: 36, Base: "25C"} }), `base: "25C"`},
		{"shell of a lying tank", lying(t), r, lyingShell, "shell: this is not known to be an upright cylinder"},
		{"shell of an unknown tank", byVolume(t, 20000), volumes(1000, 0, 5), lyingShell, "shell: this is not known to be an upright cylinder"},
		{"shell of a box", box(t), r, lyingShell, "shell: this is not known to be an upright cylinder"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.tank.Quantity(tt.r, tt.by)
			if tt.name == "no fuel" {
				if err == nil {
					t.Error("accepted")
				}
				return
			}
			wantInvalid(t, err, tt.says)
		})
	}
}

// anyAccounting draws rules that a fuel of the drawn gauging can be accounted by.
func anyAccounting(t *rapid.T, fuel Corrector) Accounting {
	base, err := fuel.At(rapid.SampledFrom([]Base{Base15C, Base20C, Base60F}).Draw(t, "base"))
	if err != nil {
		t.Fatal(err)
	}
	heat, err := HeatContentOf(rapid.SampledFrom([]string{"diesel-1-s15", "diesel-2-s15", "diesel-en590", "diesel-arctic", "jet-a1"}).Draw(t, "grade"))
	if err != nil {
		t.Fatal(err)
	}
	return Accounting{
		Fuel: base, Sediment: rapid.Float64Range(0, 100).Draw(t, "sediment"), Heat: heat,
		Air: rapid.SampledFrom([]AirRule{"", AirExact, AirLess1100}).Draw(t, "air"),
	}
}

func TestAQuantityAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		by := anyAccounting(t, c)
		q, err := tank.Quantity(r, by)
		if err != nil {
			t.Fatal(err)
		}
		content, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		off := func(a, b float64) bool { return !(math.Abs(a-b) <= 1e-9*(1+math.Abs(b))) }
		switch {
		case off(float64(q.TotalObserved), float64(q.GrossObserved+q.FreeWater)):
			t.Fatalf("fuel and water are not the whole: %+v", q)
		case off(float64(q.TotalCalculated), float64(q.GrossStandard)+float64(q.FreeWater)):
			t.Fatalf("total calculated: %+v", q)
		case !(q.NetStandard >= 0 && q.NetStandard <= q.GrossStandard && q.Net.InVacuo <= q.Gross.InVacuo):
			t.Fatalf("more net than gross: %+v", q)
		case !(q.Gross.InAir < q.Gross.InVacuo || q.GrossStandard < 1e-300): // below, a double has no digits left
			t.Fatalf("as heavy in air as in vacuo: %+v", q)
		case !(q.Energy.Net <= q.Energy.Gross && q.Energy.Net >= 0):
			t.Fatalf("more heat net than gross: %+v", q.Energy)
		case off(float64(q.Gross.InVacuo), float64(content.UsableAt15+content.Below)*c.density/1000):
			t.Fatalf("mass %v kg, by the stock %v", q.Gross.InVacuo, float64(content.UsableAt15+content.Below)*c.density/1000)
		}
	})
}
