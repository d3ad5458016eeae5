package inventory

import (
	"slices"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

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

func TestATankThatComesBackIntoServiceBringsItsFuel(t *testing.T) {
	tests := []struct {
		name      string
		out, back int // days of March, 0 for February and never
		dips      []*Gauging
		closing   units.Litres // of the tank that stays
		want      []float64    // as in TestABalanceAddsUpLineByLine; nil where there is no variance
	}{
		// Found with 5 000 L the day before it comes back; it gives 1 000 of the 7 000 L: 40 000 + 5 000 − 7 000 = 38 000.
		{"back on the 10th", 0, 10, []*Gauging{gauged("old", at(time.March, 9, 8), 5000), gauged("old", at(time.March, 29, 8), 4000)}, 33_900,
			[]float64{40_000, 0, 7000, 0, 0, 0, 0, 0, -5000, 38_000, 37_900, -100}},
		// It goes out with 5 000 L and comes back with 4 990: 45 000 − 7 000 − 10 = 37 990.
		{"out and back", 10, 20, []*Gauging{gauged("old", at(time.March, 1, 8), 5000), gauged("old", at(time.March, 9, 20), 5000), gauged("old", at(time.March, 20, 8), 4990),
			gauged("old", at(time.March, 29, 8), 4990)}, 32_900, []float64{45_000, 0, 7000, 0, 0, 0, 0, 0, 10, 37_990, 37_890, -100}},
		// From the 10th to the 20th it may have given any part of what the meter ran.
		{"back and first gauged ten days later", 0, 10, []*Gauging{gauged("old", at(time.March, 20, 8), 5000), gauged("old", at(time.March, 29, 8), 4000)}, 33_900, nil},
		{"back and first gauged in the evening", 0, 10, []*Gauging{gauged("old", at(time.March, 10, 20), 5000), gauged("old", at(time.March, 29, 8), 4000)}, 33_900,
			[]float64{40_000, 0, 7000, 0, 0, 0, 0, 0, -5000, 38_000, 37_900, -100}},
		{"back and empty", 0, 10, []*Gauging{gauged("old", at(time.March, 20, 8), 0), gauged("old", at(time.March, 29, 8), 0)}, 32_900,
			[]float64{40_000, 0, 7000, 0, 0, 0, 0, 0, 0, 33_000, 32_900, -100}},
		{"back and not gauged until the end", 0, 10, []*Gauging{gauged("old", at(time.January, 20, 8), 5000), gauged("old", at(time.March, 29, 8), 4000)}, 33_900, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			old := volumeTank("old", Storage, 30_000)
			old.OutFrom, old.BackOn = ptr(calendar.Date(2026, time.February, 1)), ptr(day(tt.back))
			if tt.out > 0 {
				old.OutFrom = ptr(day(tt.out))
			}
			rows := march(40_000, tt.closing)
			rows.Gaugings = append(rows.Gaugings, tt.dips...)
			got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), old), "diesel-2-s15", rows)
			if got.Known != (tt.want != nil) || tt.want != nil && !slices.EqualFunc(figures(got), tt.want, near) {
				t.Errorf("%s %v, want %v", got.Why, figures(got), tt.want)
			}
		})
	}
}

// It is changed to jet fuel on the 15th and was dipped on the 10th: nobody knows what went over.
func TestATankThatWasNotGaugedWhenItsProductChangedLeavesNoVariance(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("winter", at(time.March, 1, 8), 4100), gauged("winter", at(time.March, 10, 12), 4000))
	rows.ProductChanges = []*ProductChange{{Plant: "P", Tank: "winter", At: at(time.March, 15, 12), Product: "jet-a1"}}
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("winter", Storage, 30_000)), "diesel-2-s15", rows)
	if got.Known || got.Why != "tank winter was not gauged when its product or its service changed on 2026-03-15" {
		t.Errorf("%v %s", got.Known, got.Why)
	}
}

// It is changed from jet fuel on the 10th and first dipped on the 20th: it may have given any part of what the meter ran.
func TestATankThatWasFirstGaugedLongAfterItsChangeLeavesNoVariance(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("winter", at(time.March, 20, 8), 4000), gauged("winter", at(time.March, 29, 8), 4000))
	rows.ProductChanges = []*ProductChange{{Plant: "P", Tank: "winter", At: at(time.March, 10, 12), Product: "diesel-2-s15"}}
	winter := volumeTank("winter", Storage, 30_000)
	winter.Product = "jet-a1"
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), winter), "diesel-2-s15", rows)
	if got.Known || got.Why != "tank winter was first gauged on 2026-03-20: what it held before is not known" {
		t.Errorf("%v %s", got.Known, got.Why)
	}
}

// A new tank is filled with 3 000 L on the 14th and first gauged on the 15th: its fuel comes in with it. 40 000 + 3 000 − 7 000 = 36 000.
// Without the delivery it stood there before, and nobody knows what it gave.
func TestATankIsInTheBalanceFromItsFirstGaugingOn(t *testing.T) {
	rows := march(40_000, 32_900)
	rows.Gaugings = append(rows.Gaugings, gauged("new", at(time.March, 15, 8), 3000), gauged("new", at(time.March, 29, 8), 3000))
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("new", Storage, 30_000)), "diesel-2-s15", rows)
	if got.Known || got.Why != "tank new was first gauged on 2026-03-15: what it held before is not known" {
		t.Errorf("%v %s", got.Known, got.Why)
	}
	rows.Deliveries = []*Delivery{{Plant: "P", Tank: "new", At: at(time.March, 14, 8), Measure: at15(3000)}}
	got = balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("new", Storage, 30_000)), "diesel-2-s15", rows)
	if want := []float64{40_000, 0, 7000, 0, 0, 0, 0, 0, -3000, 36_000, 35_900, -100}; !got.Known || !slices.EqualFunc(figures(got), want, near) {
		t.Errorf("%s %v, want %v", got.Why, figures(got), want)
	}
	// First gauged in the round of the opening count, it is in it from the beginning.
	rows.Gaugings[2].At, rows.Deliveries = at(time.March, 1, 9), nil
	got = balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("new", Storage, 30_000)), "diesel-2-s15", rows)
	if want := []float64{43_000, 0, 7000, 0, 0, 0, 0, 0, 0, 36_000, 35_900, -100}; !got.Known || !slices.EqualFunc(figures(got), want, near) {
		t.Errorf("%s %v, want %v", got.Why, figures(got), want)
	}
}
