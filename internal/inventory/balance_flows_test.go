package inventory

import (
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

func TestAnOpenTransferIsNamedWithItsPlannedStop(t *testing.T) {
	rows := march(40_000, 32_900)
	stop := at(time.March, 20, 18)
	rows.Transfers = []*Transfer{{Plant: "P", From: "bulk", To: "mid", At: at(time.March, 20, 12), Open: true, PlannedStop: &stop}}
	notes := bookOf(t, rows).OpenTransfers()
	if len(notes) != 1 || notes[0].Code != "transfer-open" || notes[0].Severity != "serious" {
		t.Errorf("%v", notes)
	}
}

// As of 31 March.
func TestATransferThatStillRunsIsToldByItsPlannedStop(t *testing.T) {
	stop := func(month time.Month, d int) *time.Time { return ptr(at(month, d, 18)) }
	tests := []struct {
		name     string
		open     bool
		began    time.Time
		stop     *time.Time
		severity notice.Severity // blank where nothing is told
	}{
		{"ended", false, at(time.March, 20, 12), nil, ""},
		{"nobody said when it is to stop", true, at(time.March, 20, 12), nil, notice.Serious},
		{"it was to stop", true, at(time.March, 20, 12), stop(time.March, 20), notice.Serious},
		{"it is to stop", true, at(time.March, 20, 12), stop(time.April, 2), notice.Info},
		{"not begun yet", true, at(time.April, 1, 12), stop(time.April, 2), ""},
	}
	for _, tt := range tests {
		rows := march(40_000, 32_900)
		rows.Transfers = []*Transfer{{Plant: "P", From: "bulk", To: "mid", At: tt.began, Open: tt.open, PlannedStop: tt.stop}}
		b := bookOf(t, rows)
		_, beside := b.Balance(time.Time{}, time.Time{})
		beside = slices.DeleteFunc(beside, func(n notice.Notice) bool { return n.Code != "transfer-open" })
		for where, notes := range map[string]notice.List{"alone": b.OpenTransfers(), "beside the balance": beside} {
			if (len(notes) == 1) != (tt.severity != "") || len(notes) == 1 && notes[0].Severity != tt.severity {
				t.Errorf("%s, %s: %v, want %s", tt.name, where, notes, tt.severity)
			}
		}
	}
}

// 40 000 − 7 000 = 33 000 L without them.
func TestAMovementCountsBetweenTheGaugingsOfItsTank(t *testing.T) {
	tests := []struct {
		name     string
		when     time.Time
		tank     string
		received float64
	}{
		{"at the opening count", at(time.March, 1, 8), "bulk", 0},
		{"at the opening count, no tank said", at(time.March, 1, 8), "", 0},
		{"inside", at(time.March, 9, 9), "bulk", 900},
		{"inside, no tank said", at(time.March, 9, 9), "", 900},
		{"after the closing count", at(time.March, 29, 12), "bulk", 0},
		{"after the closing count, no tank said", at(time.March, 29, 12), "", 0},
		{"before, into a day tank that was not gauged", at(time.February, 28, 8), "day", 0},
		{"into a day tank that was not gauged", at(time.March, 9, 9), "day", 900},
		{"after, into a day tank that was not gauged", at(time.March, 29, 12), "day", 0},
		{"into a tank that is not there", at(time.March, 9, 9), "elsewhere", 0},
	}
	for _, tt := range tests {
		rows := march(40_000, 33_000)
		rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: tt.tank, At: tt.when, Measure: at15(900)}}
		rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
		got, _ := bookOf(t, rows).Balance(time.Time{}, time.Time{})
		if !near(float64(got.Received), tt.received) {
			t.Errorf("%s: received %v, want %v", tt.name, got.Received, tt.received)
		}
	}
}

// 500 L of jet fuel pumped into the diesel tank become diesel, and 200 L the other way round become jet: 300 L are changed.
func TestFuelMovedBetweenTanksOfTwoProductsChangesOver(t *testing.T) {
	rows := march(40_000, 33_200)
	rows.Gaugings = append(rows.Gaugings, gauged("jet", at(time.March, 1, 8), 9000), gauged("jet", at(time.March, 29, 8), 8700))
	rows.Transfers = []*Transfer{{Entry: Entry{Key: "a"}, Plant: "P", From: "jet", To: "bulk", At: at(time.March, 9, 9), Measure: at15(500)},
		{Entry: Entry{Key: "b"}, Plant: "P", From: "bulk", To: "jet", At: at(time.March, 12, 9), Measure: at15(200)}}
	jets := volumeTank("jet", Storage, 20_000)
	jets.Product = "jet-a1"
	dir := directoryOf(volumeTank("bulk", Storage, 50_000), volumeTank("day", DayTank, 1000), jets)
	got := balanceOf(t, dir, "diesel-2-s15", rows)
	if want := []float64{40_000, 0, 7000, 0, 0, 0, 300, 0, 0, 33_300, 33_200, -100}; !got.Known || !slices.EqualFunc(figures(got), want, near) {
		t.Errorf("%s %v, want %v", got.Why, figures(got), want)
	}
	// 0.5 % of each: root of 2.5² and 1².
	if !near(float64(got.Sources.Movements), math.Hypot(2.5, 1)) {
		t.Errorf("σ of the movements %v", got.Sources.Movements)
	}
	if jet := balanceOf(t, dir, "jet-a1", rows); !near(float64(jet.Changed), -300) || !near(float64(jet.Consumed), 0) {
		t.Errorf("jet: %v", figures(jet))
	}
}

// A bill for jet fuel that went into the diesel tank counts as what the tank holds, and is named.
func TestADeliveryOfAnotherProductThanItsTankHoldsIsNamed(t *testing.T) {
	for _, p := range []Product{"", "diesel-2-s15", "jet-a1"} {
		rows := march(40_000, 33_800)
		rows.Deliveries = []*Delivery{{Plant: "P", Tank: "bulk", At: at(time.March, 9, 9), Measure: at15(900), Product: p}}
		got, notes := bookOf(t, rows).Balance(time.Time{}, time.Time{})
		if !near(float64(got.Received), 900) || slices.Contains(codes(notes), "product-differs") != (p == "jet-a1") {
			t.Errorf("%q: received %v, %v", p, got.Received, codes(notes))
		}
	}
}

// B is dipped at 15:00 of the days on which A is dipped at 08:00. What went into B at noon of the 1st is in its opening, and what
// went into it at noon of the 29th in its closing.
func TestADeliveryBetweenTheDipsOfOneCountCountsByTheDipOfItsTank(t *testing.T) {
	for d, want := range map[int]float64{1: 0, 15: 9000, 29: 9000} {
		rows := march(40_000, 33_000)
		closing := units.Litres(12_000 + want)
		rows.Gaugings = append(rows.Gaugings, gauged("B", at(time.March, 1, 15), 12_000), gauged("B", at(time.March, 29, 15), closing))
		rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "B", At: at(time.March, d, 11), Measure: at15(9000)}}
		rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
		got, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000), volumeTank("B", Storage, 40_000)).Balance(time.Time{}, time.Time{})
		if !near(float64(got.Received), want) || !near(float64(got.Variance), 0) {
			t.Errorf("on the %d: received %v, variance %v (%s)", d, got.Received, got.Variance, got.Why)
		}
	}
}
