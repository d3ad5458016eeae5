package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

func change(t testing.TB, tank Tank, opening, closing Reading, c Corrector) Estimate {
	t.Helper()
	got, err := tank.Change(opening, closing, c, 5)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// By hand, at 15 °C: the box holds 10 L per mm. Dips of 3 mm are 30 L each; the table's 0.5 % and 7.5e-4·1.1 of one thermometer
// act on 200 L moved and on each stock.
func TestTheErrorOfTheTableActsOnWhatWasMoved(t *testing.T) {
	at15C := new(units.Celsius(15))
	opening := Reading{Depth: new(units.Millimetres(1500)), Temperature: at15C}
	closing := Reading{Depth: new(units.Millimetres(1480)), Temperature: at15C}
	c := corrector(t, 845)
	got := change(t, box(t), opening, closing, c)
	near(t, "moved", float64(got.Litres), -200, 1e-9)
	near(t, "table", float64(part(t, got, TableFactor, "").Contribution), -1, 1e-9)
	near(t, "thermometer at the opening, 8.37e-4 per °C (computed)", float64(part(t, got, FuelTemperature, Opening).Contribution), 15000*8.37e-4, 0.05)
	near(t, "sigma", float64(got.Sigma), math.Sqrt(2*30*30+1+math.Pow(15000*8.3e-4, 2)+math.Pow(14800*8.3e-4, 2)), 0.2)
	// As two independent stocks the tables alone would give 75 and 74 L.
	stock := measure(t, box(t), opening, c)
	if apart := math.Hypot(float64(stock.FuelSigma), float64(stock.FuelSigma)); float64(got.Sigma) > apart/2 {
		t.Errorf("%v L, of independent stocks %v L", got.Sigma, apart)
	}
}

func TestATemperatureAssumedForBothActsOnWhatWasMoved(t *testing.T) {
	opening := Reading{Depth: new(units.Millimetres(1500))}
	closing := Reading{Depth: new(units.Millimetres(1480))}
	got := change(t, box(t), opening, closing, corrector(t, 845))
	warmth := part(t, got, FuelTemperature, "")
	near(t, "litres", float64(warmth.Contribution), 200*8*8.3e-4, 0.02)
	if !warmth.Common || warmth.Value != 5 || warmth.Sigma != 8 || warmth.Unit != "°C" {
		t.Errorf("%+v", warmth)
	}
}

func TestAChangeCountsTheFuelBelowTheSuction(t *testing.T) {
	at15C := new(units.Celsius(15))
	got := change(t, box(t), Reading{Depth: new(units.Millimetres(20)), Temperature: at15C},
		Reading{Depth: new(units.Millimetres(90)), Temperature: at15C}, corrector(t, 845))
	near(t, "moved", float64(got.Litres), 700, 1e-9) // by hand; the suction stands at 100 mm
}

func TestAGaugingWhileFillingMarksTheChange(t *testing.T) {
	still := Reading{Depth: new(units.Millimetres(1000))}
	heaving := still
	heaving.WhileFilling = true
	c := corrector(t, 845)
	for _, tt := range []struct {
		opening, closing Reading
		want             bool
	}{{still, still, false}, {heaving, still, true}, {still, heaving, true}} {
		got := change(t, box(t), tt.opening, tt.closing, c)
		if got.WhileFilling != tt.want || Sum(got, change(t, box(t), still, still, c)).WhileFilling != tt.want {
			t.Errorf("opening %v, closing %v: %v", tt.opening.WhileFilling, tt.closing.WhileFilling, got.WhileFilling)
		}
	}
}

func TestAnErrorSaysWhichGaugingIsWrong(t *testing.T) {
	good, bad := Reading{Depth: new(units.Millimetres(1000))}, Reading{Depth: new(units.Millimetres(9000))}
	_, err := box(t).Change(bad, good, corrector(t, 845), 5)
	wantInvalid(t, err, "opening: depth: 9000 mm")
	_, err = box(t).Change(good, bad, corrector(t, 845), 5)
	wantInvalid(t, err, "closing: depth: 9000 mm")
	_, err = box(t).Change(good, good, Corrector{}, 5)
	if err == nil {
		t.Error("a correction without a density was taken")
	}
}

func TestASumNamesTheTanksOfItsParts(t *testing.T) {
	c := corrector(t, 845)
	stock := func(name string) Estimate {
		got, err := box(t).Stock(Reading{Depth: new(units.Millimetres(1000))}, c, 5)
		if err != nil {
			t.Fatal(err)
		}
		got.Of = name
		return got
	}
	sum := Sum(stock("north"), stock("south"))
	var names []string
	for _, p := range sum.Parts {
		names = append(names, string(p.Source)+" "+p.Of)
	}
	want := []string{"reading north", "table north", "temperature ", "density ", "shell ", "reading south", "table south"}
	if len(names) != len(want) {
		t.Fatalf("got %q", names)
	}
	for i := range want {
		if names[i] != want[i] {
			t.Errorf("line %d: got %q, want %q", i+1, names[i], want[i])
		}
	}
}

// anotherGauging draws a second gauging that a tank accepts.
func anotherGauging(t *rapid.T, tank Tank) Reading {
	share := rapid.Float64Range(0, 1)
	r := Reading{Depth: new(units.Millimetres(share.Draw(t, "second depth")) * tank.Shape.Depth())}
	if rapid.Bool().Draw(t, "second temperature read") {
		r.Temperature = new(units.Celsius(rapid.Float64Range(-50, 60).Draw(t, "second temperature")))
	}
	r.DepthPrecision = units.Millimetres(share.Draw(t, "second precision")) * tank.Shape.Depth()
	return r
}

func squares(parts []Part) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += float64(p.Contribution) * float64(p.Contribution)
	}
	return sum
}

func TestAChangeIsTheOppositeOfTheChangeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, opening, c := anyGauging(t)
		if rapid.Bool().Draw(t, "not read") {
			opening.Temperature = nil
		}
		closing := anotherGauging(t, tank)
		there, err1 := tank.Change(opening, closing, c, 10)
		back, err2 := tank.Change(closing, opening, c, 10)
		before, err3 := tank.Fuel(opening, c, 10)
		after, err4 := tank.Fuel(closing, c, 10)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil {
			t.Fatal(err1, err2, err3, err4)
		}
		rounding := 1e-12 * (1 + float64(there.Sigma))
		if there.Litres != -back.Litres || math.Abs(float64(there.Sigma-back.Sigma)) > rounding {
			t.Fatalf("%v ± %v there, %v ± %v back", there.Litres, there.Sigma, back.Litres, back.Sigma)
		}
		if there.Litres != after.Litres-before.Litres {
			t.Fatalf("%v L moved between %v and %v L", there.Litres, before.Litres, after.Litres)
		}
		if !(there.Sigma >= 0 && float64(there.Sigma) <= float64(before.Sigma+after.Sigma)*(1+1e-9)) {
			t.Fatalf("%v L, more than %v and %v L together", there.Sigma, before.Sigma, after.Sigma)
		}
		for _, e := range []Estimate{there, before, after, Sum(before, there)} {
			if got, want := squares(e.Parts), float64(e.Sigma*e.Sigma); !(math.Abs(got-want) <= 1e-9*(1+want)) {
				t.Fatalf("squares of the parts %v, of the whole %v", got, want)
			}
			for _, p := range e.Parts {
				if off := p.Sensitivity*p.Sigma - float64(p.Contribution); !(math.Abs(off) <= 1e-9*(1+math.Abs(float64(p.Contribution)))) {
					t.Fatalf("%+v", p)
				}
			}
		}
	})
}

func TestBetweenEqualReadingsNothingButTheReadingsCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		got, err := tank.Change(r, r, c, 10)
		if err != nil {
			t.Fatal(err)
		}
		if got.Litres != 0 {
			t.Fatalf("%v L moved", got.Litres)
		}
		for _, p := range got.Parts {
			if common := p.Source == TableFactor || p.Common; common && p.Contribution != 0 {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func TestAStockWithItsPartsIsTheStockMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		content, err := tank.Measure(r, c, 10)
		if err != nil {
			t.Fatal(err)
		}
		stock, err1 := tank.Stock(r, c, 10)
		fuel, err2 := tank.Fuel(r, c, 10)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if stock.Litres != content.UsableAt15 || stock.Sigma != content.Sigma || fuel.Sigma != content.FuelSigma ||
			math.Abs(float64(fuel.Litres-content.UsableAt15-content.Below)) > 1e-9*(1+float64(fuel.Litres)) {
			t.Fatalf("%+v and %+v of %+v", stock, fuel, content)
		}
		reading, warmth := 0.0, 0.0
		for _, p := range fuel.Parts {
			switch p.Source {
			case LiquidReading, WaterReading:
				reading += math.Pow(float64(p.Contribution), 2)
			case FuelTemperature:
				warmth = math.Abs(float64(p.Contribution))
			}
		}
		if math.Abs(float64(content.FuelReadingSigma)-math.Sqrt(reading)) > 1e-9*(1+math.Sqrt(reading)) || float64(content.FuelWarmthSigma) != warmth {
			t.Fatalf("%+v of %+v", content, fuel.Parts)
		}
	})
}

// Whatever the gauge, its precision and the level, a sigma is a number and not below 0.
func TestASigmaIsANumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank, r, c := anyGauging(t)
		if r.Depth != nil && rapid.Bool().Draw(t, "capacity only") {
			s, err := VolumeOnly(Capacity(tank.Shape))
			if err != nil {
				t.Fatal(err)
			}
			r.Volume, r.WaterVolume = new(tank.Shape.Volume(*r.Depth)), new(tank.Shape.Volume(*r.Water))
			r.Depth, r.Water, tank.Shape = nil, nil, s
		}
		share := rapid.Float64Range(1e-12, 1)
		r.DepthPrecision = units.Millimetres(share.Draw(t, "of depths")) * tank.Shape.Depth()
		r.VolumePrecision = units.Litres(share.Draw(t, "of volumes")) * Capacity(tank.Shape)
		content, err := tank.Measure(r, c, 0)
		if err != nil {
			t.Fatal(err)
		}
		capacity := units.LitresAt15(Capacity(tank.Shape))
		for _, sigma := range []units.LitresAt15{content.Sigma, content.FuelSigma} {
			// What lies between empty and full is spread by half of that at most, and a tenth over for the rest.
			if !(sigma >= 0 && sigma <= capacity*0.6) {
				t.Fatalf("%v L in a tank of %v L: %+v", sigma, capacity, content)
			}
		}
	})
}
