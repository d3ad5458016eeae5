package inventory

import (
	"testing"
	"time"

	"overwinter/internal/units"
)

func TestAUsageIntervalSaysHowItWasFoundAndWhatWasGenerated(t *testing.T) {
	kwh := func(d, hour int, register float64) *Round {
		return &Round{Plant: "P", At: at(time.March, d, hour), EnergyRegister: &register}
	}
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 300), reading(at(time.March, 3, 8), 600), reading(at(time.March, 4, 8), 900)},
		Rounds:   []*Round{kwh(1, 8, 5000), kwh(2, 9, 6100), kwh(3, 20, 7300), kwh(4, 8, 8300)},
		Gaugings: []*Gauging{gauged("bulk", at(time.March, 10, 8), 20_000), gauged("bulk", at(time.March, 17, 8), 18_000)},
	}
	rows.Readings[3].Replaces = "earlier"
	got, _ := bookOf(t, rows, volumeTank("bulk", Storage, 50_000)).Usages()
	want := []struct {
		quality Quality
		kwh     float64 // 0 where it is not known
	}{{Measured, 1100}, {Measured, 0}, {Corrected, 0}, {Derived, 0}} // the register was not read in the round of the 3rd
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, u := range got {
		if u.Quality != want[i].quality || (u.Energy == nil) != (want[i].kwh == 0) || u.Energy != nil && !near(*u.Energy, want[i].kwh) {
			t.Errorf("interval %d: %s, %v; want %+v", i, u.Quality, u.Energy, want[i])
		}
	}
}

// The interval from the 1st to the 8th of March, metered or gauged.
func TestAnIntervalThatRestsOnADoubtedRowIsDoubtful(t *testing.T) {
	move := func(from, to string, d int) *Transfer {
		return &Transfer{Plant: "P", From: from, To: to, At: at(time.March, d, 12), Measure: at15(100_000)}
	}
	sale := func(first, last int) *Draw {
		return &Draw{Plant: "P", FirstDay: day(first), LastDay: day(last), Purpose: Sale, Measure: at15(units.Litres(90_000 * (last - first + 1)))}
	}
	bill := func(tank string, d int) *Delivery {
		return &Delivery{Plant: "P", Tank: tank, At: at(time.March, d, 14), Measure: at15(300_000)}
	}
	tests := []struct {
		name           string
		rows           Rows
		metered, count bool // whether the interval is doubtful, metered and by the dips
	}{
		{"none", Rows{}, false, false},
		{"a delivery into storage", Rows{Deliveries: []*Delivery{bill("bulk", 4)}}, false, true},
		{"a delivery after", Rows{Deliveries: []*Delivery{bill("bulk", 10)}}, false, false},
		// Out of the day tank past the meter: it would count as a return.
		{"a transfer out of the day tank", Rows{Transfers: []*Transfer{move("day", "bulk", 4)}}, true, true},
		{"a transfer out of the day tank after", Rows{Transfers: []*Transfer{move("day", "bulk", 10)}}, false, false},
		{"a transfer between storage tanks", Rows{Transfers: []*Transfer{move("bulk", "other", 4)}}, false, true},
		{"a draw", Rows{Draws: []*Draw{sale(4, 4)}}, false, true},
		{"a draw that ends after", Rows{Draws: []*Draw{sale(8, 9)}}, false, true},
		{"a draw after", Rows{Draws: []*Draw{sale(9, 9)}}, false, false},
	}
	for _, tt := range tests {
		for _, metered := range []bool{true, false} {
			rows := tt.rows
			rows.Gaugings = []*Gauging{gauged("bulk", at(time.March, 1, 8), 30_000), gauged("bulk", at(time.March, 8, 8), 28_000)}
			want := tt.count
			if metered {
				rows.Readings = []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 8, 8), 3000)}
				want = tt.metered
			}
			b := bookOf(t, rows)
			u, _ := b.Usages()
			switch {
			case metered && (len(u) != 1 || (u[0].Quality == Doubtful) != want):
				t.Errorf("%s, metered: %+v, want doubtful %v; %v", tt.name, u, want, toldOf(b))
			case !metered && want != (len(u) == 0 || u[0].Quality == Doubtful):
				t.Errorf("%s, by the dips: %+v, want none or doubtful %v; %v", tt.name, u, want, toldOf(b))
			}
		}
	}
}

// Each kind of row that an interval from the 1st to the 8th rests on, once as a correction of an earlier row.
func TestAnIntervalThatRestsOnACorrectionSaysSo(t *testing.T) {
	base := func(metered bool) Rows {
		rows := Rows{Gaugings: []*Gauging{gauged("bulk", at(time.March, 1, 8), 30_000), gauged("bulk", at(time.March, 8, 8), 28_000)}}
		if metered {
			rows.Readings = []*MeterReading{reading(at(time.March, 1, 8), 1000), reading(at(time.March, 8, 8), 3000)}
		}
		return rows
	}
	again := Entry{Key: "x", Replaces: "earlier"}
	tests := []struct {
		name    string
		metered bool
		change  func(*Rows)
		want    Quality
	}{
		{"a reading", true, func(r *Rows) { r.Readings[1].Entry = again }, Corrected},
		{"a gauging of storage beside the meter", true, func(r *Rows) { r.Gaugings[1].Entry = again }, Measured},
		{"a gauging of the day tank", true, func(r *Rows) {
			g := gauged("day", at(time.March, 8, 9), 500)
			g.Entry = again
			r.Gaugings = append(r.Gaugings, g)
		}, Corrected},
		{"a swap", true, func(r *Rows) {
			r.Swaps = []*MeterSwap{{Entry: again, Plant: "P", Meter: "M", At: at(time.March, 4, 8), Closing: ptr(2000.0), Opening: ptr(2000.0)}}
		}, Corrected},
		{"a hand pump", true, func(r *Rows) {
			r.Transfers = []*Transfer{{Entry: again, Plant: "P", From: "bulk", To: "day", At: at(time.March, 4, 8), Measure: at15(50)}}
		}, Corrected},
		{"a transfer between storage tanks", true, func(r *Rows) {
			r.Transfers = []*Transfer{{Entry: again, Plant: "P", From: "bulk", To: "other", At: at(time.March, 4, 8), Measure: at15(50)}}
		}, Measured},
		{"a reading of another week", true, func(r *Rows) {
			r.Readings = append(r.Readings, reading(at(time.March, 20, 8), 6000))
			r.Readings[2].Entry = again
		}, Measured},
		{"a dip", false, func(r *Rows) { r.Gaugings[1].Entry = again }, Corrected},
		{"a draw", false, func(r *Rows) {
			r.Draws = []*Draw{{Entry: again, Plant: "P", FirstDay: day(4), LastDay: day(4), Purpose: Heat, Measure: at15(50)}}
		}, Corrected},
		{"a draw of another week", false, func(r *Rows) {
			r.Draws = []*Draw{{Entry: again, Plant: "P", FirstDay: day(20), LastDay: day(20), Purpose: Heat, Measure: at15(50)}}
		}, Derived},
		{"a delivery", false, func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: again, Plant: "P", Tank: "bulk", At: at(time.March, 4, 14), Measure: at15(50)}}
		}, Corrected},
		{"a delivery of jet fuel", false, func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: again, Plant: "P", Product: "jet-a1", At: at(time.March, 4, 14), Measure: at15(50)}}
		}, Derived},
	}
	for _, tt := range tests {
		rows := base(tt.metered)
		tt.change(&rows)
		b := bookOf(t, rows)
		if u, _ := b.Usages(); len(u) == 0 || u[0].Quality != tt.want {
			t.Errorf("%s: %+v, want %s; %v", tt.name, u, tt.want, toldOf(b))
		}
	}
	totals := Rows{Totals: monthly()}
	totals.Totals[3].Replaces = "earlier"
	u, _ := bookOf(t, totals).Usages()
	for i := range u {
		if want := map[bool]Quality{true: Corrected, false: Measured}[i == 3]; u[i].Quality != want {
			t.Errorf("total %d is %s, want %s", i, u[i].Quality, want)
		}
	}
}
