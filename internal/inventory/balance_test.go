package inventory

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// figures are the lines of a balance, in the order in which they are added.
func figures(b Balance) []float64 {
	var all []float64
	for _, v := range []units.LitresAt15{b.Opening, b.Received, b.Consumed, b.Drawn, b.Repaid, b.Corrected, b.Changed, b.Moved, b.OutOfService, b.Book, b.Physical, b.Variance} {
		all = append(all, float64(v))
	}
	return all
}

// march is the rows of a metered month: dipped on the 1st and on the 29th, 7 000 L through the meter.
func march(opening, closing units.Litres) Rows {
	return Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 29, 8), 8000)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 8), opening), gauged("bulk", at(time.March, 29, 8), closing)},
	}
}

func day(d int) calendar.Day { return calendar.Date(2026, time.March, d) }

func TestABalanceAddsUpLineByLine(t *testing.T) {
	draw := func(v units.Litres, p Purpose) *Draw {
		return &Draw{Plant: "P", FirstDay: day(5), LastDay: day(6), Measure: at15(v), Purpose: p}
	}
	move := func(from, to string, d int, v units.Litres) *Transfer {
		return &Transfer{Plant: "P", From: from, To: to, At: at(time.March, d, 12), Measure: at15(v)}
	}
	dayDips := func(r *Rows, first, last units.Litres) {
		r.Gaugings = append(r.Gaugings, gauged("day", at(time.March, 1, 9), first), gauged("day", at(time.March, 29, 8), last))
	}
	tests := []struct {
		name string
		rows func(*Rows)
		want []float64 // opening, received, consumed, drawn, repaid, corrected, changed, moved, out of service, book, physical, variance
	}{
		// 40 000 − 7 000 = 33 000; the dips find 32 900.
		{"the meter alone", func(*Rows) {}, []float64{40_000, 0, 7000, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
		// The day tank fell by 250 L, which were burned: they were never in the storage tank's variance.
		{"a day tank that swings", func(r *Rows) { dayDips(r, 950, 700) },
			[]float64{40_950, 0, 7250, 0, 0, 0, 0, 0, 0, 33_700, 33_600, -100}},
		{"a day tank read while it fills", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Gaugings[3].Moving = true
		}, []float64{40_000, 0, 7000, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
		// 60 L went back past the meter: 6 940 burned of the 7 000.
		{"a pump-down return", func(r *Rows) { r.Transfers = append(r.Transfers, move("day", "bulk", 10, 60)) },
			[]float64{40_000, 0, 6940, 0, 0, 0, 0, 0, 0, 33_060, 32_900, -160}},
		{"a fill by hand pump", func(r *Rows) { r.Transfers = append(r.Transfers, move("bulk", "day", 10, 90)) },
			[]float64{40_000, 0, 7090, 0, 0, 0, 0, 0, 0, 32_910, 32_900, -10}},
		{"a fill by hand pump with the day tank gauged", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Transfers = append(r.Transfers, move("bulk", "day", 10, 90))
		}, []float64{40_950, 0, 7340, 0, 0, 0, 0, 0, 0, 33_610, 33_600, -10}},
		// Between the meter's reading at 08:00 and the day tank's gauging at 09:00 on the 1st: the storage tank sees it alone.
		{"a fill between the gaugings of one round", func(r *Rows) {
			dayDips(r, 950, 700)
			r.Transfers = append(r.Transfers, &Transfer{Plant: "P", From: "bulk", To: "day", At: at(time.March, 1, 8).Add(30 * time.Minute), Measure: at15(90)})
		}, []float64{40_950, 0, 7250, 0, 0, 0, 0, -90, 0, 33_610, 33_600, -10}},
		{"received, drawn, repaid, corrected", func(r *Rows) {
			r.Gaugings[1] = gauged("bulk", at(time.March, 29, 8), 38_300)
			r.Deliveries = append(r.Deliveries, &Delivery{Entry: Entry{Key: "large"}, Plant: "P", Tank: "bulk", At: at(time.March, 9, 9), Measure: at15(5000)},
				&Delivery{Plant: "P", At: at(time.March, 10, 9), Measure: at15(1000)},
				&Delivery{Plant: "P", Product: "jet-a1", At: at(time.March, 10, 9), Measure: at15(777)})
			// Two readings do not tell what the plant usually burns, so that the delivery looks too large.
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "large"}}
			r.Draws = append(r.Draws, draw(300, Heat), draw(400, Loan), draw(150, Repayment))
			r.CountCorrections = []*CountCorrection{{Plant: "P", Product: "diesel-2-s15", Day: day(15), Measure: at15(-120)},
				{Plant: "P", Product: "jet-a1", Day: day(15), Measure: at15(-9)}}
		}, []float64{40_000, 6000, 7000, 700, 150, -120, 0, 0, 0, 38_450, 38_300, -150}},
		{"a delivery straight into the day tank", func(r *Rows) {
			r.Deliveries = append(r.Deliveries, &Delivery{Plant: "P", Tank: "day", At: at(time.March, 9, 9), Measure: at15(200)})
		}, []float64{40_000, 200, 7200, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := march(40_000, 32_900)
			tt.rows(&rows)
			b := bookOf(t, rows)
			got, _ := b.Balance(at(time.March, 1, 0), at(time.March, 31, 0))
			if !got.Known || !slices.EqualFunc(figures(got), tt.want, near) {
				t.Errorf("known %v (%s)\n got %v\nwant %v\ndoubts %v", got.Known, got.Why, figures(got), tt.want, b.Doubtful())
			}
		})
	}
}

func TestAPlantWithoutAMeterHasNoVariance(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Readings = nil
	b := bookOf(t, rows)
	b.meters = nil
	got, _ := b.Balance(time.Time{}, time.Time{})
	if got.Known || got.Metered || got.Why == "" || !near(float64(got.Consumed), 7100) || got.Variance != 0 || got.Sigma != 0 || got.Book != got.Physical {
		t.Errorf("%+v", got)
	}
}

// Storage tank "winter" of diesel is changed to jet with 4 000 L in it: they go over from one book to the other.
func TestWhatATankStillHeldGoesOverToItsNewProduct(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("winter", at(time.March, 1, 8), 4100), gauged("winter", at(time.March, 15, 12), 4000),
		gauged("winter", at(time.March, 29, 8), 24_000), gauged("jet", at(time.March, 1, 8), 1000), gauged("jet", at(time.March, 29, 8), 1000))
	rows.ProductChanges = []*ProductChange{{Plant: "P", Tank: "winter", At: at(time.March, 15, 12), Product: "jet-a1"}}
	rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "winter", At: at(time.March, 16, 9), Measure: at15(20_100)}}
	rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
	dir := directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("winter", Storage, 30_000), volumeTank("day", DayTank, 1000))
	jets := volumeTank("jet", Storage, 5000)
	jets.Product = "jet-a1"
	dir.rows.Tanks = append(dir.rows.Tanks, jets)
	diesel, jet := balanceOf(t, dir, "diesel-2-s15", rows), balanceOf(t, dir, "jet-a1", rows)
	// 44 100 − 7 000 − 4 000 = 33 100 L of diesel; 4 000 L came over to nothing, and 20 100 L were delivered.
	if want := []float64{44_100, 0, 7000, 0, 0, 0, -4000, 0, 0, 33_100, 32_900, -200}; !diesel.Known || !slices.EqualFunc(figures(diesel), want, near) {
		t.Errorf("diesel %s %v, want %v", diesel.Why, figures(diesel), want)
	}
	// 1 000 + 4 000 + 20 100 − 25 000 = 100 L of jet fuel are gone: no meter says where.
	if want := []float64{1000, 20_100, 100, 0, 0, 0, 4000, 0, 0, 25_000, 25_000, 0}; jet.Known || !slices.EqualFunc(figures(jet), want, near) {
		t.Errorf("jet %s %v, want %v", jet.Why, figures(jet), want)
	}
	if got := ProductsOf(dir, "P", rows); !slices.Equal(got, []Product{"diesel-2-s15", "jet-a1"}) {
		t.Errorf("products %v", got)
	}
}

func TestATankThatGoesOutOfServiceTakesItsFuelAlong(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("old", at(time.March, 1, 8), 5000), gauged("old", at(time.March, 20, 8), 5000))
	old := volumeTank("old", Storage, 30_000)
	old.OutFrom = ptr(day(10))
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), old), "diesel-2-s15", rows)
	if want := []float64{45_000, 0, 7000, 0, 0, 0, 0, 0, 5000, 33_000, 32_900, -100}; !got.Known || !slices.EqualFunc(figures(got), want, near) {
		t.Errorf("%s %v, want %v", got.Why, figures(got), want)
	}
}

func directoryOf(tanks ...*Tank) *Directory {
	return NewDirectory(Rows{
		Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15", AssumedTemperature: ptr(units.Celsius(15))}},
		Tanks:  tanks,
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}},
	})
}

func balanceOf(t *testing.T, d *Directory, p Product, rows Rows) Balance {
	t.Helper()
	b, err := NewProductBook(d, "P", p, rows, day(31))
	if err != nil {
		t.Fatal(err)
	}
	got, _ := b.Balance(time.Time{}, time.Time{})
	return got
}

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

func TestTheMonthlyScreenIsOnePercentAnd130Gallons(t *testing.T) {
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000)), "diesel-2-s15", march(40_000, 32_400))
	// 1 % of 7 000 L + 130 · 3.785411784 L = 562.1 L, against 600 L.
	if s := got.Screen; !s.Applies || !s.Beyond || !near(float64(s.Limit), 562.10353192) || !near(float64(got.Variance), -600) {
		t.Errorf("%+v, variance %v", s, got.Variance)
	}
}

func TestAnOpenTransferIsNamedWithItsPlannedStop(t *testing.T) {
	rows := march(40_000, 32_900)
	stop := at(time.March, 20, 18)
	rows.Transfers = []*Transfer{{Plant: "P", From: "bulk", To: "mid", At: at(time.March, 20, 12), Open: true, PlannedStop: &stop}}
	notes := bookOf(t, rows).OpenTransfers()
	if len(notes) != 1 || notes[0].Code != "transfer-open" || notes[0].Severity != "serious" {
		t.Errorf("%v", notes)
	}
}

// Three counts, 10 days apart: the variances are −100 and +60 L; a single balance over all of it finds −40 L.
func TestTheRunningSumIsASingleBalanceOverAllOfIt(t *testing.T) {
	rows := Rows{}
	for i, v := range []units.Litres{40_000, 36_900, 33_960} {
		rows.Readings = append(rows.Readings, reading(at(time.March, 1+10*i, 8), 1000+3000*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("bulk", at(time.March, 1+10*i, 8), v))
	}
	lines, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Balances(time.Time{}, time.Time{}, ByCount)
	if len(lines) != 2 || !near(float64(lines[0].Variance), -100) || !near(float64(lines[1].Variance), 60) || !near(float64(lines[1].Sum), -40) {
		t.Fatalf("%+v", lines)
	}
	// The count in the middle is in neither end of the whole: the sum is surer than two variances that knew nothing of each other.
	if apart := 1.4142 * float64(lines[0].Sigma); float64(lines[1].SumSigma) > apart-50 {
		t.Errorf("σ of the sum %v, apart %v", lines[1].SumSigma, apart)
	}
	if lines[0].Screen.Applies {
		t.Error("ten days are no month")
	}
}

// Proved at 1.02 half-way between two readings a day apart: 100 L count at the mean of 1 and 1.02, the next 100 at 1.02.
// A swap ends what was proved.
func TestAProvingCountsFromItsMomentUntilTheSwap(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 100), reading(at(time.March, 3, 8), 200), reading(at(time.March, 5, 8), 400)},
		Provings: []*Proving{{Plant: "P", Meter: "M", At: at(time.March, 1, 20), Factor: 1.02}},
		Swaps:    []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 3, 8).Add(time.Second), Closing: ptr(200.0), Opening: ptr(200.0)}},
	}
	got, _ := used(t, rows, volumeTank("bulk", Storage, 50_000))
	if !slices.EqualFunc(got, []float64{101, 102, 200}, func(a, b float64) bool { return a-b < 0.001 && b-a < 0.001 }) {
		t.Errorf("got %v", got)
	}
}
