package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/units"
)

// Weekly readings of 2 100 L and weekly dips that fell by as much. In the sixth week the meter ran 18 900 L, nine times as
// much; far is four times, and over two weeks 21 000 L are far as well.
func TestTwoInstrumentsThatAgreeVouchForEachOther(t *testing.T) {
	tests := []struct {
		name string
		fell units.Litres // what the tank lost in that week
		came units.Litres // delivered in the same week
		want []told
	}{
		{"the tank fell as much", 18_900, 0, nil},
		// 15 % of 18 900 L and three deviations of two gauges of 80 000 L, 1 % each: 6 229 L.
		{"the tank fell by 5 400 L less", 13_500, 0, nil},
		{"the tank fell by 6 900 L less", 12_000, 0, []told{{"m0212", BeyondBurn, RunBefore}}},
		{"the tank fell as usual", 2100, 0, []told{{"m0212", BeyondBurn, RunBefore}}},
		{"5 000 L came, and the tank fell by the rest", 13_900, 5000, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, held, register := Rows{}, units.Litres(60_000), 20_000.0
			for week := range 11 {
				when := at(time.January, 1+7*week, 8)
				if week > 0 {
					run, fell := 2100.0, units.Litres(2100)
					if week == 6 {
						run, fell = 18_900, tt.fell
					}
					register, held = register+run, held-fell
				}
				r, g := reading(when, register), gauged("bulk", when, held)
				r.Key, g.Key = "m"+when.Format("0102"), "g"+when.Format("0102")
				rows.Readings, rows.Gaugings = append(rows.Readings, r), append(rows.Gaugings, g)
			}
			if tt.came > 0 {
				rows.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "bulk", At: at(time.February, 9, 12), Measure: at15(tt.came)}}
			}
			b := bookOf(t, rows, volumeTank("bulk", Storage, 80_000))
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
			// A run that is not believed was not burned: the dips speak for that week.
			burned := units.LitresAt15(18_900)
			if tt.want != nil {
				burned = units.LitresAt15(tt.fell)
			}
			if usages, _ := b.Usages(); len(usages) != 10 || !near(float64(usages[5].Litres), float64(burned)) {
				t.Errorf("%d intervals, want 10, and %v L in the sixth: %+v", len(usages), burned, usages)
			}
		})
	}
}

// 300 L a day, then 5 000: far is 1 200, and over a few days as well. One day alone is doubted, two in a row are a new level, and
// a slip of the pen comes back. A slip and a change (10 + 15) are cheaper than two changes.
func TestARunAtANewLevelIsBelieved(t *testing.T) {
	tests := []struct {
		name string
		runs []float64 // from 29 January on
		want []told
	}{
		{"one day", []float64{5000}, []told{{"m0130", BeyondBurn, RunBefore}}},
		{"for good", []float64{5000, 5000, 5000, 5000, 5000}, nil},
		{"two days", []float64{5000, 3500}, nil},
		{"two days that differ by more than twice", []float64{9000, 4000}, []told{{"m0130", BeyondBurn, WholeRow}, {"m0131", BeyondBurn, RunBefore}}},
		{"there and back", []float64{5000, -4700}, []told{{"m0130", BeyondBurn, WholeRow}}},
		// Twice all that the tanks hold: 100 000 L.
		{"more than the tanks ever held", []float64{120_000, 110_000}, []told{{"m0130", BeyondBurn, WholeRow}, {"m0131", BeyondBurn, RunBefore}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := daily(29)
			for i := range 30 {
				run := 300.0
				if i < len(tt.runs) {
					run = tt.runs[i]
				}
				r := reading(at(time.January, 30+i, 8), rows[len(rows)-1].Register+run)
				r.Key = "m" + r.At.Format("0102")
				rows = append(rows, r)
			}
			d := directoryOf(volumeTank("bulk", Storage, 50_000))
			d.rows.Meters[0].Digits = 7
			b, err := NewBook(NewDirectory(d.rows), "P", Rows{Readings: rows}, day(31))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Three readings tell of nothing usual; but a plant burns no more than its tank of 50 000 L holds and what came.
func TestBeforeAnythingIsUsualAPlantBurnsNoMoreThanItHasHeld(t *testing.T) {
	tests := []struct {
		name  string
		run   float64
		came  units.Litres // in those days; less than nothing: a month before and a month after
		tanks []*Tank
		days  int
		want  bool // doubted
	}{
		{"less", 45_000, 0, nil, 7, false},
		{"more", 70_000, 0, nil, 7, true},
		{"more, and fuel came", 70_000, 30_000, nil, 7, false},
		{"more, and fuel came in another month", 70_000, -30_000, nil, 7, true},
		{"more, over two months", 70_000, 0, nil, 60, false},
		{"no tank is known", 70_000, 0, []*Tank{}, 7, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: []*MeterReading{reading(at(time.January, 1, 8), 1000), reading(at(time.January, 1+tt.days, 8), 1000+tt.run)}}
			switch {
			case tt.came > 0:
				rows.Deliveries = []*Delivery{{Plant: "P", At: at(time.January, 4, 12), Measure: at15(tt.came)}}
			case tt.came < 0:
				rows.Deliveries = []*Delivery{{Entry: Entry{Key: "a"}, Plant: "P", At: time.Date(2025, 12, 4, 12, 0, 0, 0, time.UTC), Measure: at15(-tt.came)},
					{Entry: Entry{Key: "b"}, Plant: "P", At: at(time.February, 4, 12), Measure: at15(-tt.came)}}
			}
			if tt.tanks == nil {
				tt.tanks = []*Tank{volumeTank("bulk", Storage, 50_000)}
			}
			if got := toldOf(bookOf(t, rows, tt.tanks...)); (got != nil) != tt.want {
				t.Errorf("%v, want doubted %v", got, tt.want)
			}
		})
	}
}
