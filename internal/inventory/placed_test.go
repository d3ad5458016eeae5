package inventory

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/units"
)

// The tank of 10 L a millimetre is dipped on Mondays at 08:00 (5, 12, 19 and 26 January) and falls by 210 mm a week. 6 000 L came
// in the week before the 12th or before the 19th, and the row says when.
func TestADeliveryIsPlacedWhereTheTankRose(t *testing.T) {
	first, second := []units.Millimetres{4000, 4390, 4180, 3970}, []units.Millimetres{4000, 3790, 4180, 3970}
	tests := []struct {
		name   string
		depths []units.Millimetres
		at     time.Time
		tank   string
		want   time.Time
	}{
		// 12:00 stands for a day without its hour: from 00:00 to 24:00.
		{"by its day, and the dip has it", first, at(time.January, 12, 12), "A", at(time.January, 12, 4)},
		{"by its day, and the dip does not have it", second, at(time.January, 12, 12), "A", at(time.January, 12, 12)},
		{"by the day before, and the dip does not have it", second, at(time.January, 11, 12), "A", at(time.January, 11, 12)},
		// An hour is good to three hours.
		{"an hour after the dip, which has it", first, at(time.January, 12, 9), "A", at(time.January, 12, 7)},
		{"an hour after the dip, which does not have it", second, at(time.January, 12, 9), "A", at(time.January, 12, 9)},
		{"an hour before the dip, which does not have it", second, at(time.January, 12, 7), "A", at(time.January, 12, 9)},
		{"an hour before the dip, which has it", first, at(time.January, 12, 7), "A", at(time.January, 12, 7)},
		{"four hours after the dip, which has it", first, at(time.January, 12, 13), "A", at(time.January, 12, 13)},
		{"of the only storage tank, none said", first, at(time.January, 12, 9), "", at(time.January, 12, 7)},
		{"into the day tank", first, at(time.January, 12, 9), "day", at(time.January, 12, 9)},
		{"into a tank that is not there", first, at(time.January, 12, 9), "B", at(time.January, 12, 9)},
	}
	for _, tt := range tests {
		rows := Rows{Gaugings: mondays(tt.depths), Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: tt.tank, At: tt.at, Measure: at15(6000)}},
			Confirmations: []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}}
		b := bookOf(t, rows, upright("A"), volumeTank("day", DayTank, 1000))
		// From 05:00 on, three hours before the dip at 08:00, the middle is 06:30; from 06:00 on 07:00.
		if got := b.rows.Deliveries[0].At; gap(got, tt.want) > 90*time.Minute || (gap(got, tt.at) == 0) != tt.at.Equal(tt.want) {
			t.Errorf("%s: placed at %v, want about %v", tt.name, got, tt.want)
		}
		if !rows.Deliveries[0].At.Equal(tt.at) {
			t.Errorf("%s: the row itself was changed", tt.name)
		}
	}
}

func mondays(depths []units.Millimetres) (all []*Gauging) {
	for i, depth := range depths {
		all = append(all, &Gauging{Plant: "P", Tank: "A", At: at(time.January, 5+7*i, 8), Depth: &depth, Temperature: ptr(units.Celsius(15))})
	}
	return all
}

// The newest dip is of the 26th. What was written down beside it and it does not have came after it; what was written down long
// before is a matter of doubt and not of hours.
func TestWhatTheNewestDipDoesNotHaveYetCameAfterIt(t *testing.T) {
	for _, tt := range []struct {
		name string
		at   time.Time
		want time.Time
	}{
		{"by its day", at(time.January, 26, 12), at(time.January, 26, 12)},
		{"of the dip's own minute", at(time.January, 26, 8), at(time.January, 26, 9)},
		{"two hours before the dip", at(time.January, 26, 6), at(time.January, 26, 6)},
		{"by the day before", at(time.January, 25, 12), at(time.January, 25, 12)},
		{"after it", at(time.January, 27, 12), at(time.January, 27, 12)},
	} {
		rows := Rows{Gaugings: mondays([]units.Millimetres{4000, 3790, 3580, 3370}), Deliveries: []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: tt.at, Measure: at15(6000)}},
			Confirmations: []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}}
		if got := bookOf(t, rows, upright("A")).rows.Deliveries[0].At; gap(got, tt.want) > time.Hour || !got.After(at(time.January, 26, 8)) != !tt.want.After(at(time.January, 26, 8)) {
			t.Errorf("%s: placed at %v, want about %v", tt.name, got, tt.want)
		}
	}
}

// 40 mm of water were found on 5 January. A dip that does not say whether it looked for water does not say that there is none.
func TestWaterThatWasFoundStandsUntilSomebodyLooksForItAgain(t *testing.T) {
	mm := func(v units.Millimetres) *units.Millimetres { return &v }
	tests := []struct {
		name   string
		change func([]*Gauging)
		water  []float64 // under each dip, −1 where nothing is said
		notes  []string
	}{
		{"not looked for again", func([]*Gauging) {}, []float64{40, 40, 40, 40}, []string{"water-carried"}},
		{"found gone", func(g []*Gauging) { g[2].Water = mm(0) }, []float64{40, 40, 0, -1}, nil},
		{"found higher", func(g []*Gauging) { g[2].Water = mm(60) }, []float64{40, 40, 60, 60}, []string{"water-carried"}},
		{"found at the newest dip", func(g []*Gauging) { g[3].Water = mm(50) }, []float64{40, 40, 40, 50}, nil},
		{"never looked for", func(g []*Gauging) { g[0].Water = nil }, []float64{-1, -1, -1, -1}, nil},
		{"lower than the water was", func(g []*Gauging) { g[3].Depth = mm(30) }, []float64{40, 40, 40, -1}, nil},
		{"more than a year before", func(g []*Gauging) { g[0].At = g[0].At.AddDate(-1, 0, -10) }, []float64{40, 40, 40, 40}, []string{"water-carried"}},
		{"of another tank", func(g []*Gauging) { g[0].Tank = "B" }, []float64{40, -1, -1, -1}, nil},
	}
	for _, tt := range tests {
		rows := Rows{Gaugings: mondays([]units.Millimetres{4000, 3790, 3580, 3370})}
		rows.Gaugings[0].Water = mm(40)
		tt.change(rows.Gaugings)
		b := bookOf(t, rows, upright("A"), upright("B"))
		for i, g := range b.rows.Gaugings {
			if got := float64(orElse(g.Water, -1)); got != tt.water[i] {
				t.Errorf("%s: dip %d has %v mm, want %v", tt.name, i, got, tt.water[i])
			}
		}
		got := slices.DeleteFunc(codes(b.Doubts()), func(code string) bool { return code == "doubtful-gauging" })
		if !slices.Equal(got, tt.notes) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.notes)
		}
	}
}

// Where a load is put at another hour all stay in order, whichever way it goes, beside loads of its own moment and without keys too.
func TestADeliveryIsPutWhereItsMomentBelongs(t *testing.T) {
	load := func(hour int) *Delivery { return brought("", "A", time.January, 10, hour, 1000) }
	for _, tt := range []struct {
		name string
		to   int
		want []int
	}{
		{"earlier", 7, []int{6, 7, 8, 12, 18}},
		{"to the front", 5, []int{5, 6, 8, 12, 18}},
		{"later", 20, []int{6, 8, 12, 18, 20}},
		{"where it stood", 13, []int{6, 8, 12, 13, 18}},
	} {
		b := &Book{rows: Rows{Deliveries: []*Delivery{load(6), load(8), load(12), load(12), load(18)}}}
		stays := b.rows.Deliveries[2]
		b.place(b.rows.Deliveries[3], at(time.January, 10, tt.to))
		var got []int
		found := false
		for _, d := range b.rows.Deliveries {
			got, found = append(got, d.At.Hour()), found || d == stays
		}
		if diff := cmp.Diff(tt.want, got); diff != "" || !found {
			t.Errorf("%s: %s, the other is there: %v", tt.name, diff, found)
		}
	}
}
