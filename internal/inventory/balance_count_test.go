package inventory

import (
	"slices"
	"testing"
	"time"
)

// Tank "bulk" is dipped at 08:00 on the 1st and on the 29th of March, when the meter stands at 1 000 and 8 000.
func TestACountNeedsAllStorageTanksAndEveryMeter(t *testing.T) {
	other := func(hour int) func(*Rows) {
		return func(r *Rows) {
			r.Gaugings = append(r.Gaugings, gauged("other", at(time.March, 1, 8), 3000), gauged("other", at(time.March, 15, 8), 3000), gauged("other", at(time.March, 29, hour), 3000))
		}
	}
	meter := func(when ...time.Time) func(*Rows) {
		return func(r *Rows) {
			r.Readings = nil
			for i, at := range when {
				r.Readings = append(r.Readings, reading(at, 1000+100*float64(i)))
			}
		}
	}
	tests := []struct {
		name   string
		change func(*Rows)
		counts int
	}{
		{"one tank", func(*Rows) {}, 2},
		{"the other eleven hours later", other(19), 2},
		{"the other thirteen hours later", other(21), 1},
		{"fuel ran while it was dipped", func(r *Rows) { r.Gaugings[1].Moving = true }, 1},
		{"the meter read three hours later", meter(at(time.March, 1, 11), at(time.March, 29, 8)), 2},
		{"the meter read four hours later, and a month after", meter(at(time.March, 1, 12), at(time.March, 29, 8)), 1},
		// A meter that is read every day runs evenly between.
		{"read in the evenings", meter(at(time.March, 1, 20), at(time.March, 28, 20), at(time.March, 29, 20)), 1},
		{"read in the evenings, from the day before", meter(at(time.February, 28, 20), at(time.March, 1, 20), at(time.March, 28, 20), at(time.March, 29, 20)), 2},
		// First read on the next day: it stood there. A week later: nobody knows of it before.
		{"first read the day after", meter(at(time.March, 2, 8), at(time.March, 29, 8)), 1},
		{"first read a week after", meter(at(time.March, 8, 8), at(time.March, 29, 8)), 2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := march(40_000, 39_000)
			tt.change(&rows)
			if got := len(bookOf(t, rows, volumeTank("bulk", Storage, 50_000), volumeTank("other", Storage, 20_000)).ledger().found); got != tt.counts {
				t.Errorf("%d counts, want %d", got, tt.counts)
			}
		})
	}
}

// What a tank that was never gauged holds is in no balance: that is told, unless the tank is out of service.
func TestATankInServiceThatWasNeverGaugedIsNamedBesideTheBalance(t *testing.T) {
	for _, out := range []bool{false, true} {
		bare := volumeTank("bare", Storage, 20_000)
		if out {
			bare.OutFrom = ptr(day(1))
		}
		got, notes := bookOf(t, march(40_000, 32_900), volumeTank("bulk", Storage, 50_000), bare).Balance(time.Time{}, time.Time{})
		if !got.Known || slices.Contains(codes(notes), "tank-not-gauged") == out {
			t.Errorf("out of service %v: known %v, %v", out, got.Known, codes(notes))
		}
	}
}

// Until the 10th the large tank leads, then it is out and the small one does: counts are found around its gaugings.
func TestTheLargestTankInServiceLeadsTheCounts(t *testing.T) {
	large := volumeTank("large", Storage, 60_000)
	large.OutFrom = ptr(day(10))
	rows := Rows{}
	for i, d := range []int{1, 8, 15, 22} {
		rows.Readings = append(rows.Readings, reading(at(time.March, d, 8), 1000+100*float64(i)))
		rows.Gaugings = append(rows.Gaugings, gauged("small", at(time.March, d, 8), 8000))
	}
	rows.Gaugings = append(rows.Gaugings, gauged("large", at(time.March, 1, 9), 30_000), gauged("large", at(time.March, 8, 9), 30_000))
	var found []time.Time
	for _, c := range bookOf(t, rows, volumeTank("small", Storage, 10_000), large).ledger().found {
		found = append(found, c.at)
	}
	want := []time.Time{at(time.March, 1, 9), at(time.March, 8, 9), at(time.March, 15, 8), at(time.March, 22, 8)}
	if !slices.EqualFunc(found, want, time.Time.Equal) {
		t.Errorf("%v, want %v", found, want)
	}
}
