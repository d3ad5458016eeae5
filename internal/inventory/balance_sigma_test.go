package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// From 6 mm each, 16 L/mm, 7 000 L moved: dips 96 L · √2 = 135.8; table and meter 0.5 % of 7 000 = 35.
func TestTheUncertaintyOfAVarianceComesBySource(t *testing.T) {
	rows := march(1, 1)
	d, h := units.Millimetres(4513.5), units.Millimetres(6000) // 16.0 L/mm
	tank := &Tank{Plant: "P", ID: "bulk", Role: Storage, Product: "diesel-2-s15", Shape: ShapeVertical, Diameter: &d, Height: &h}
	for i, depth := range []units.Millimetres{2000, 1562.5} {
		g := rows.Gaugings[i]
		g.Volume, g.Depth, g.Precision = nil, &depth, 6
	}
	got := balanceOf(t, directoryOf(tank), "diesel-2-s15", rows)
	for _, x := range []struct {
		name      string
		got       units.LitresAt15
		want, tol float64
	}{{"dips", got.Sources.Dips, 135.8, 0.1}, {"table", got.Sources.Table, 35, 0.1}, {"meter", got.Sources.Meter, 35, 0.01},
		{"density", got.Sources.Density, 0, 0.01}, // all at 15 °C
		// 0.83 ‰ a degree of 32 000 and 25 000 L: 33.9 L (computed).
		{"temperature", got.Sources.Temperature, 34, 1}} {
		if d := float64(x.got) - x.want; d > x.tol || d < -x.tol {
			t.Errorf("%s %.2f, want %.2f", x.name, x.got, x.want)
		}
	}
}

// At −20 °C at both ends the tank fell by 7 100 L as read; the meter is compensated. Fuel that is denser by 7.2 kg/m³ changes
// those litres alone: 7 100 L · the difference of the factors (internal/tanks, held against the standard there).
func TestTheDensityActsOnWhatWasCorrectedWithIt(t *testing.T) {
	rows := march(40_000, 32_900)
	for _, g := range rows.Gaugings {
		g.Temperature = ptr(units.Celsius(-20))
	}
	b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000))
	b.meters[0].Compensated = true
	got, _ := b.Balance(time.Time{}, time.Time{})
	factor := func(density units.KgPerM3) float64 {
		c, err := tanks.NewCorrector(density)
		if err != nil {
			t.Fatal(err)
		}
		v, err := c.VCF(-20)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	if want := 7100 * math.Abs(factor(845)-factor(845+7.2)); want < 1 || !near(float64(got.Sources.Density), want) {
		t.Errorf("density %v, want %v", got.Sources.Density, want)
	}
	s := got.Sources
	sum := math.Sqrt(float64(s.Meter*s.Meter + s.Dips*s.Dips + s.Table*s.Table + s.Temperature*s.Temperature + s.Density*s.Density + s.Movements*s.Movements))
	if !near(float64(got.Sigma), sum) || !near(got.Z, float64(got.Variance/got.Sigma)) {
		t.Errorf("σ %v of %+v, z %v", got.Sigma, s, got.Z)
	}
}

// What was received, drawn and given back counts with 0.5 %, one error for all rows of a document. A draw on the day of a
// count, at 08:00 with a third of the day over, may have left before or after: 240 L · √(1/3 · 2/3) = 113.14 L.
func TestTheUncertaintyOfMovementsIsThatOfTheirDocuments(t *testing.T) {
	bill := func(document, key string, d int, v units.Litres) *Delivery {
		return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: "bulk", At: at(time.March, d, 12), Document: document, Measure: at15(v)}
	}
	drawn := func(first, last int, v units.Litres, p Purpose) *Draw {
		return &Draw{Plant: "P", FirstDay: day(first), LastDay: day(last), Purpose: p, Measure: at15(v)}
	}
	tests := []struct {
		name    string
		bills   []*Delivery
		draws   []*Draw
		closing units.Litres
		want    float64
	}{
		{"none", nil, nil, 33_000, 0},
		{"one document of 3 000 and 4 000 L", []*Delivery{bill("7", "a", 10, 3000), bill("7", "b", 11, 4000)}, nil, 40_000, 35},
		{"two documents: root of 15² and 20²", []*Delivery{bill("7", "a", 10, 3000), bill("8", "b", 11, 4000)}, nil, 40_000, 25},
		{"two rows without a document", []*Delivery{bill("", "a", 10, 3000), bill("", "b", 11, 4000)}, nil, 40_000, 25},
		{"drawn 600 and repaid 800 L: root of 3² and 4²", nil, []*Draw{drawn(5, 6, 600, Loan), drawn(15, 16, 800, Repayment)}, 33_200, 5},
		// Two thirds of the 240 L lie after the count: 0.5 % of 160 L beside the hours.
		{"drawn on the day of a count", nil, []*Draw{drawn(1, 1, 240, Vehicles)}, 32_840, math.Hypot(113.137085, 0.8)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := march(40_000, tt.closing)
			rows.Deliveries, rows.Draws = tt.bills, tt.draws
			b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000))
			got, _ := b.Balance(time.Time{}, time.Time{})
			if !got.Known || !near(float64(got.Sources.Movements), tt.want) {
				t.Errorf("known %v (%s): %v, want %v; doubts %v", got.Known, got.Why, got.Sources.Movements, tt.want, toldOf(b))
			}
		})
	}
}

// What a day tank holds cancels out, and so does what is moved from storage to storage. What a hand pump moved is an entry that
// takes part in what was burned: 0.5 % of 1 000 L.
func TestWhatCancelsOutMakesAVarianceNoLessCertain(t *testing.T) {
	sources := func(change func(*Rows)) Sources {
		rows := march(40_000, 33_000)
		rows.Gaugings = append(rows.Gaugings, gauged("other", at(time.March, 1, 8), 9000), gauged("other", at(time.March, 29, 8), 9000))
		change(&rows)
		got, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000), volumeTank("other", Storage, 20_000), volumeTank("day", DayTank, 2000)).Balance(time.Time{}, time.Time{})
		return got.Sources
	}
	move := func(from, to string) func(*Rows) {
		return func(r *Rows) {
			r.Gaugings = append(r.Gaugings, gauged("day", at(time.March, 1, 8), 900), gauged("day", at(time.March, 29, 8), 900))
			r.Transfers = []*Transfer{{Plant: "P", From: from, To: to, At: at(time.March, 10, 12), Measure: at15(1000)}}
		}
	}
	bare := sources(func(*Rows) {})
	if moved := sources(move("bulk", "other")); moved != bare {
		t.Errorf("from storage to storage: %+v, want %+v", moved, bare)
	}
	pumped := sources(move("bulk", "day"))
	if !near(float64(pumped.Movements), 5) || pumped.Dips != bare.Dips {
		t.Errorf("by hand pump: %+v", pumped)
	}
}

// 7 000 L ran at a temperature that nobody read, 8 °C off: 7 000 · 0.00083 · 8 = 46 L (the slope computed). One of the two
// readings with a temperature is enough, and a compensated meter needs none.
func TestMeteredLitresWithoutATemperatureAreLessCertain(t *testing.T) {
	warmth := func(first, last *units.Celsius, compensated bool) float64 {
		rows := march(40_000, 33_000)
		rows.Readings[0].Temperature, rows.Readings[1].Temperature = first, last
		b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000))
		b.meters[0].Compensated = compensated
		got, _ := b.Balance(time.Time{}, time.Time{})
		return float64(got.Sources.Temperature)
	}
	warm := ptr(units.Celsius(15))
	read := warmth(warm, warm, false)
	if blind := math.Sqrt(square(warmth(nil, nil, false)) - square(read)); blind < 45 || blind > 48 {
		t.Errorf("nobody read it: %v L, want about 46", blind)
	}
	if warmth(warm, nil, false) != read || warmth(nil, warm, false) != read || warmth(nil, nil, true) != read {
		t.Error("one temperature, or a compensated meter, is as good as two")
	}
}

// A temperature that nobody read is off by 8 °C instead of 1 °C: the part of 5 000 L received is eight times as large.
func TestATemperatureThatNobodyReadIsEightTimesAsUncertain(t *testing.T) {
	warmth := func(of Measure) float64 { return bookOf(t, Rows{}).warmth(of) }
	read := warmth(Measure{Volume: 5000, Temperature: ptr(units.Celsius(15))})
	// 0.00083 a degree (computed): 5 000 L · 0.00083 = 4.2 L.
	if read < 4 || read > 4.4 {
		t.Errorf("read: %v L, want about 4.2", read)
	}
	if blind := warmth(Measure{Volume: 5000}); math.Abs(blind/read-8) > 0.05 {
		t.Errorf("not read: %v L, want about 8 · %v", blind, read)
	}
	if stated := warmth(at15(5000)); stated != 0 {
		t.Errorf("stated at 15 °C: %v, want none", stated)
	}
	// At the end of the tables the temperature can be off to one side only, and at no more than they hold.
	if edge := warmth(Measure{Volume: 5000, Temperature: ptr(tanks.Coldest)}); edge < 3 || edge > 5 {
		t.Errorf("at the coldest of the tables: %v", edge)
	}
}
