package inventory

import (
	"math"
	"strings"
	"testing"
	"time"
)

// two is the march of a plant with meters M and N, of which N is read as stated on the days of March.
func two(t *testing.T, rows Rows, n map[int]float64, swaps ...*MeterSwap) *Book {
	t.Helper()
	for d, register := range n {
		r := reading(at(time.March, d, 8), register)
		r.Meter = "N"
		rows.Readings = append(rows.Readings, r)
	}
	rows.Swaps = swaps
	dir := directoryOf(volumeTank("bulk", Storage, 50_000))
	dir.rows.Meters = append(dir.rows.Meters, &Meter{Plant: "P", ID: "N", Digits: 5, LitresPerCount: 1})
	b, err := NewBook(NewDirectory(dir.rows), "P", rows, day(31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// M runs 7 000 L from the 1st to the 29th of March.
func TestAMeterCountsFromWhenItWasPutInUntilItWasTakenOut(t *testing.T) {
	swap := func(meter string, d int, closing, opening *float64) *MeterSwap {
		return &MeterSwap{Plant: "P", Meter: meter, At: at(time.March, d, 12), Closing: closing, Opening: opening}
	}
	tests := []struct {
		name  string
		n     map[int]float64
		swaps []*MeterSwap
		want  float64 // consumed, 0 where it is not known
	}{
		{"no second meter", nil, nil, 7000},
		{"both read at both ends", map[int]float64{1: 200, 29: 1200}, nil, 8000},
		// Put in on the 9th at 500 counts, first read on the 10th at 550, and at 1 500 in the end: 1 000.
		{"put in with its first register", map[int]float64{10: 550, 29: 1500}, []*MeterSwap{swap("N", 9, nil, ptr(500.0))}, 8000},
		{"put in at zero", map[int]float64{10: 0, 29: 1000}, nil, 8000},
		{"begun, and nobody knows from where", map[int]float64{10: 550, 29: 1500}, nil, 0},
		// Read at 400 on the 9th, taken out at 450: 250 and no more.
		{"taken out", map[int]float64{1: 200, 9: 400}, []*MeterSwap{swap("N", 9, ptr(450.0), nil)}, 7250},
		{"not read at the end", map[int]float64{1: 200, 9: 400}, nil, 0},
		{"changed, and nobody knows from what to what", map[int]float64{1: 200, 9: 400, 29: 900}, []*MeterSwap{swap("N", 9, nil, nil)}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := two(t, march(40_000, 32_900), tt.n, tt.swaps...)
			got, _ := b.Balance(time.Time{}, time.Time{})
			if got.Metered != (tt.want != 0) || got.Metered && !near(float64(got.Consumed), tt.want) {
				t.Errorf("metered %v, consumed %v (%s), want %v; doubts %v", got.Metered, got.Consumed, got.Why, tt.want, toldOf(b))
			}
			// Each meter has an error of its own: 0.5 % of what it ran.
			if rest := tt.want - 7000; got.Metered && !near(float64(got.Sources.Meter), math.Hypot(35, 0.005*rest)) {
				t.Errorf("σ of the meters %v", got.Sources.Meter)
			}
		})
	}
}

// The day tank goes over to jet fuel at noon of the 15th, when the meter stands at 4 500: diesel is burned before, jet after.
func TestFromTheProductChangeOfTheDayTankTheMeterCountsForTheOtherFuel(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 15, 12), 4500), reading(at(time.March, 22, 8), 6200), reading(at(time.March, 29, 8), 8000)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 8), 40_000), gauged("bulk", at(time.March, 22, 8), 36_450), gauged("bulk", at(time.March, 29, 8), 36_400),
			gauged("jet", at(time.March, 1, 8), 10_000), gauged("jet", at(time.March, 29, 8), 6300)},
		ProductChanges: []*ProductChange{{Plant: "P", Tank: "day", At: at(time.March, 15, 12), Product: "jet-a1"}},
	}
	jets := volumeTank("jet", Storage, 20_000)
	jets.Product = "jet-a1"
	dir := directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000), jets)
	open := func(p Product) *Book {
		b, err := NewProductBook(dir, "P", p, rows, day(31))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	// 36 400 − (40 000 − 3 500) and 6 300 − (10 000 − 3 500).
	for p, want := range map[Product][2]float64{"diesel-2-s15": {3500, -100}, "jet-a1": {3500, -200}} {
		got, _ := open(p).Balance(time.Time{}, time.Time{})
		if !got.Known || !near(float64(got.Consumed), want[0]) || !near(float64(got.Variance), want[1]) {
			t.Errorf("%s: consumed %v, variance %v (%s), want %v", p, got.Consumed, got.Variance, got.Why, want)
		}
	}
	// In the last week no diesel went through the meter: the 50 L that left the tank are what the stock says.
	got, _ := open("diesel-2-s15").Balance(at(time.March, 22, 8), at(time.March, 29, 8))
	if got.Known || got.Metered || !strings.HasPrefix(got.Why, "no meter measures what is burned of this product") || !near(float64(got.Consumed), 50) {
		t.Errorf("%+v", got)
	}
}

// From noon of the 10th to noon of the 20th the day tank holds jet fuel. The meter is read then: 2 500 of 7 000 L are of jet fuel.
func TestAFuelThatWasBurnedForAWhileIsMeteredForThatWhile(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 10, 12), 3300), reading(at(time.March, 20, 12), 5800), reading(at(time.March, 29, 8), 8000)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 8), 40_000), gauged("bulk", at(time.March, 29, 8), 35_500), gauged("jet", at(time.March, 1, 8), 10_000), gauged("jet", at(time.March, 29, 8), 7500)},
		ProductChanges: []*ProductChange{{Entry: Entry{Key: "a"}, Plant: "P", Tank: "day", At: at(time.March, 10, 12), Product: "jet-a1"},
			{Entry: Entry{Key: "b"}, Plant: "P", Tank: "day", At: at(time.March, 20, 12), Product: "diesel-2-s15"}},
		// Draws are of the plant's own product: they say nothing of jet fuel.
		Draws: []*Draw{draw(day(1), day(1), 300, Sale)},
	}
	jets := volumeTank("jet", Storage, 20_000)
	jets.Product = "jet-a1"
	dir := directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000), jets)
	jet := balanceOf(t, dir, "jet-a1", rows)
	if !jet.Known || !near(float64(jet.Consumed), 2500) || jet.Drawn != 0 || jet.Sources.Movements != 0 {
		t.Errorf("jet: %+v", jet)
	}
	// 300 L were sold on the 1st, of which two thirds after 08:00: 35 500 − (40 000 − 4 500 − 200).
	diesel := balanceOf(t, dir, "diesel-2-s15", rows)
	if !diesel.Known || !near(float64(diesel.Consumed), 4500) || !near(float64(diesel.Variance), 200) {
		t.Errorf("diesel: %+v", diesel)
	}
}

// Of two readings one looks wrong: the meter was in use, though what it ran nobody knows. With one reading alone it tells nothing.
func TestAMeterOfWhichAReadingIsInDoubtIsAMeterStill(t *testing.T) {
	for _, doubted := range []bool{true, false} {
		rows := march(40_000, 32_900)
		rows.Readings[1].Register = 71_000 // and the tank held 50 000 L
		if !doubted {
			rows.Readings = rows.Readings[:1]
		}
		b := bookOf(t, rows, volumeTank("bulk", Storage, 50_000))
		got, _ := b.Balance(time.Time{}, time.Time{})
		u, _ := b.Usages()
		if counts := len(b.ledger().found); (counts == 1) != doubted || got.Known || (got.Consumed == 0) != doubted {
			t.Errorf("doubted %v: %d counts, %+v, %v; %v", doubted, counts, got, u, toldOf(b))
		}
	}
}

// Read at 07:00 and 10:00, 30 L apart, and dipped at 08:00: a third of the 30 L had run by then.
func TestWithinTheRoundOfACountAMeterRunsEvenly(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Readings = []*MeterReading{reading(at(time.March, 1, 7), 1000), reading(at(time.March, 1, 10), 1030), reading(at(time.March, 29, 8), 8000)}
	got, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Balance(time.Time{}, time.Time{})
	if !got.Known || !near(float64(got.Consumed), 6990) {
		t.Errorf("consumed %v (%s), want 8 000 − 1 010", got.Consumed, got.Why)
	}
}
