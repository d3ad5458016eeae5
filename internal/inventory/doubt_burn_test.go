package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
)

// From 1 January the meter runs 300 L a day; far is four times as much. Two months of heat take 600 L, 10 L a day.
func TestWhatUsuallyLeavesIsTheBurnAndTheDraws(t *testing.T) {
	heat := []*Draw{draw(calendar.Date(2026, 1, 1), calendar.Date(2026, 3, 1), 600, Heat)}
	sale := draw(calendar.Date(2026, 1, 20), calendar.Date(2026, 1, 20), 5000, Sale)
	from, to := at(time.January, 15, 8), at(time.January, 25, 8)
	tests := []struct {
		name       string
		rows       Rows
		usual, far float64
	}{
		{"the meter", Rows{Readings: even(60)}, 3000, 12_000},
		// 10 days of 10 L are less than the 600 L that may have left in between: nobody knows on which of its days a draw was.
		{"the meter and heat", Rows{Readings: even(60), Draws: heat}, 3600, 12_600},
		// 5 600 L over 60 days are 93.3 a day: 5 600 L may have left, and four times the mean are 3 733.
		{"the meter, heat and a sale", Rows{Readings: even(60), Draws: append(heat, sale)}, 8600, 17_600},
		{"what was given back is no draw", Rows{Readings: even(60), Draws: []*Draw{draw(calendar.Date(2026, 1, 20), calendar.Date(2026, 1, 20), 5000, Repayment)}}, 3000, 12_000},
		// A sale a month before: 5 000 L over at least 30 days are 167 a day.
		{"a sale of another month", Rows{Readings: even(60), Draws: []*Draw{draw(calendar.Date(2026, 3, 20), calendar.Date(2026, 3, 20), 5000, Sale)}},
			3000 + 5000.0/3, 12_000 + 4*5000.0/3},
		// Of one run alone the middle is known, and 16 times as much are far.
		{"two readings", Rows{Readings: []*MeterReading{even(1)[0], even(31)[30]}}, 3000, 48_000},
		{"dips of a plant without a meter", Rows{Gaugings: weeklyDips(12, 40_000)}, 3000, 12_000},
		{"nothing", Rows{}, 0, 0},
	}
	for _, tt := range tests {
		usual, far, ok := bookOf(t, tt.rows).outflow().between(from, to)
		if ok != (tt.usual > 0) || ok && (math.Abs(usual-tt.usual) > 0.01 || math.Abs(far-tt.far) > 0.01) {
			t.Errorf("%s: %v, far %v (%v), want %v, %v", tt.name, usual, far, ok, tt.usual, tt.far)
		}
	}
}

// even gives readings on every day from 1 January, 300 counts a day.
func even(days int) (all []*MeterReading) {
	for i := range days {
		all = append(all, reading(at(time.January, 1+i, 8), 20_000+300*float64(i)))
	}
	return all
}

// Five runs tell what is usual of a meter, five totals or five falls of the stock where there is none.
func TestWhatIsUsualIsSettledByFiveIntervals(t *testing.T) {
	for _, tt := range []struct {
		name string
		rows Rows
		want bool
	}{
		{"five readings", Rows{Readings: even(5)}, false}, {"six readings", Rows{Readings: even(6)}, true},
		{"five dips", Rows{Gaugings: dipped("A", 5000, 4790, 4580, 4370, 4160)}, false}, {"six dips", Rows{Gaugings: dipped("A", 5000, 4790, 4580, 4370, 4160, 3950)}, true},
		{"four totals", Rows{Totals: monthly()[:4]}, false}, {"five totals", Rows{Totals: monthly()[:5]}, true},
	} {
		if got := bookOf(t, tt.rows, upright("A")).outflow().settled(at(time.January, 4, 8)); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// Into "bulk" on the 10th at 12:00, by rows of all kinds; a loan that was given back came at some hour of its day, and so did a
// delivery that names neither its tank nor its hour: no dip tells when that was.
func TestFuelMayHaveComeByADeliveryATransferOrALoanGivenBack(t *testing.T) {
	noon := at(time.March, 10, 12)
	bill := func(tank string, p Product) Rows {
		return Rows{Deliveries: []*Delivery{{Plant: "P", Tank: tank, At: noon, Product: p, Measure: at15(50)}}}
	}
	move := func(from, to string) Rows {
		return Rows{Transfers: []*Transfer{{Plant: "P", From: from, To: to, At: noon, Measure: at15(50)}}}
	}
	given := func(p Purpose) Rows { return Rows{Draws: []*Draw{draw(day(10), day(10), 50, p)}} }
	for _, tt := range []struct {
		name string
		rows Rows
		want bool
	}{
		{"a delivery", bill("bulk", ""), true}, {"a delivery, no tank said", bill("", ""), true}, {"a delivery into another tank", bill("day", ""), false},
		{"jet fuel, no tank said", bill("", "jet-a1"), false}, {"a transfer", move("day", "bulk"), true}, {"a transfer out", move("bulk", "day"), false},
		{"a loan given back", given(Repayment), true}, {"a loan", given(Loan), false},
	} {
		found := bookOf(t, tt.rows).inflows("bulk")
		for _, hour := range []int{4, 12, 20} {
			from, to := at(time.March, 10, hour-1), at(time.March, 10, hour+1)
			want := tt.want && (hour == 12 || tt.name == "a loan given back" || tt.name == "a delivery, no tank said")
			if got := anyWithin(found, from, to); got != want {
				t.Errorf("%s, at %d:00: %v, want %v", tt.name, hour, got, want)
			}
		}
		if anyWithin(found, at(time.March, 9, 0), at(time.March, 9, 12)) || anyWithin(found, at(time.March, 11, 6), at(time.March, 12, 6)) {
			t.Errorf("%s: on another day", tt.name)
		}
	}
	// Within three hours of a stretch it may have been in it.
	one := []time.Time{noon}
	for hour, want := range map[int]bool{14: true, 15: true, 16: false} {
		if got := anyWithin(one, at(time.March, 10, hour), at(time.March, 10, 20)); got != want {
			t.Errorf("a stretch from %d:00: %v", hour, got)
		}
	}
	for hour, want := range map[int]bool{10: true, 9: true, 8: false} {
		if got := anyWithin(one, at(time.March, 10, 2), at(time.March, 10, hour)); got != want {
			t.Errorf("a stretch to %d:00: %v", hour, got)
		}
	}
}
