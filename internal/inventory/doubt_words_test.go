package inventory

import (
	"math"
	"strings"
	"testing"
	"time"
)

// What a doubt says of the row: what was found, between what it was expected, and why.
func TestADoubtSaysWhatWasExpected(t *testing.T) {
	registers := func(change func([]*MeterReading)) Rows {
		rows := even(42) // 300 a day from 20 000: far is 1 200, and half a usual day may go by at once
		change(rows)
		return Rows{Readings: rows}
	}
	dips := func(change func(*Rows)) Rows {
		rows := Rows{Readings: even(60), Gaugings: dipped("A", 6000, 5790, 5580, 5370, 516, 4950, 4740)}
		change(&rows)
		return rows
	}
	totals := func(change func([]*PeriodTotal)) Rows {
		rows := monthly()
		change(rows)
		return Rows{Totals: rows}
	}
	inf := math.Inf(1)
	tests := []struct {
		name      string
		rows      Rows
		low, high float64
		within    float64 // litres, counts or kWh/L
		words     string
	}{
		{"a register between two others", registers(func(r []*MeterReading) { r[28].Register = 2840 }), 28_100, 28_700, 0, "expected 28 100 to 28 700: a digit seems to be missing"},
		{"the newest register", registers(func(r []*MeterReading) { r[41].Register = 3230 }), 32_000, 33_350, 0, "expected 32 000 to 33 350: a digit seems to be missing"},
		{"the oldest register", registers(func(r []*MeterReading) { r[0].Register = 2000 }), 18_950, 20_300, 0, "expected 18 950 to 20 300: a digit seems to be missing"},
		{"a register after a rollover", registers(func(r []*MeterReading) {
			for i := range r {
				r[i].Register = math.Mod(r[i].Register+71_500, 100_000) // through zero between 29 and 30 January
			}
			r[28].Register = 90_900
		}), 99_600, inf, 0, "expected from 99 600 on: "},
		{"a new meter that nobody wrote down", registers(func(r []*MeterReading) {
			for i := range r[30:] {
				r[30+i].Register = 50 + 300*float64(i)
			}
		}), 28_700, 30_050, 0, "Not counted: what ran up to it"},
		// By the dip after, 49 500 L less 1 % of 76 000 L and three deviations; by the one before 53 700 and as much more.
		{"a dip between two others", dips(func(*Rows) {}), 48_200, 55_000, 300, "a digit seems to be missing"},
		// Fuel came after it: by the dip before alone, less 8 400 L that are far.
		{"a dip before a delivery", dips(func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.February, 2, 12), Measure: at15(300)}}
		}), 44_000, 55_000, 300, "a digit seems to be missing"},
		{"the newest dip", dips(func(r *Rows) { r.Gaugings = r.Gaugings[:5] }), 44_000, 55_000, 300, "Dip again now"},
		{"a total", totals(func(r []*PeriodTotal) { r[15].Volume *= 10 }), 114, 780, 60, "a digit too many seems to be there"},
		{"a total of less than nothing", totals(func(r []*PeriodTotal) { r[15].Volume = -310 }), 0, inf, 0, "expected more than 0: a plant cannot burn less than nothing"},
		// 13 · 3 / 3.785411784 kWh a litre.
		{"energy beside its total", totals(func(r []*PeriodTotal) { *r[15].Energy *= 3 }), 1.585, 4.755, 0.001, "made 10.3 kWh a litre, expected 1.59 to 4.76: the energy is the odd one"},
		{"a total beside its energy", totals(func(r []*PeriodTotal) { r[15].Volume /= 2 }), 1.585, 4.755, 0.001, "made 6.87 kWh a litre, expected 1.59 to 4.76: the fuel is the odd one"},
		// Both are off by as much, to either side.
		{"both", totals(func(r []*PeriodTotal) { r[15].Volume /= 1.5; *r[15].Energy *= 1.5 }), 1.585, 4.755, 0.001, "which of the two is wrong its neighbours do not tell"},
	}
	for _, tt := range tests {
		b := bookOf(t, tt.rows, upright("A"))
		var d Doubt
		for _, one := range b.Doubtful() {
			if d.Key == "" && one.Kind != KindDelivery {
				d = one
			}
		}
		high := orElse(d.High, inf)
		if math.Abs(d.Low-tt.low) > tt.within || !(high == tt.high || math.Abs(high-tt.high) <= tt.within) || !strings.Contains(d.Message, tt.words) {
			t.Errorf("%s: %v to %v: %s\nwant %v to %v: %s", tt.name, d.Low, high, d.Message, tt.low, tt.high, tt.words)
		}
	}
}

// Of two rows that say the same.
func TestADoubtNamesTheRowsOfItsKind(t *testing.T) {
	rows := Rows{
		Transfers: []*Transfer{{Entry: Entry{Key: "a"}, Plant: "P", From: "x", To: "y", At: at(time.March, 10, 9), Measure: at15(90)},
			{Entry: Entry{Key: "b"}, Plant: "P", From: "x", To: "y", At: at(time.March, 10, 9), Measure: at15(90)}},
		Deliveries: []*Delivery{{Entry: Entry{Key: "c"}, Plant: "P", Tank: "A", At: at(time.March, 10, 9), Measure: at15(90)},
			{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.March, 10, 9), Measure: at15(90)}},
	}
	all := bookOf(t, rows, upright("A")).Doubtful()
	if len(all) != 2 || all[0].Subject != "plant P, deliveries" || all[1].Subject != "plant P, transfers" ||
		!strings.HasPrefix(all[0].Message, "the delivery of 2026-03-10 under the key d: it is there already under another key, c.") {
		t.Errorf("%+v", all)
	}
}
