package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// brought is a delivery with a document of its own, by its day alone where the hour is 12.
func brought(key, tank string, month time.Month, day, hour int, v units.Litres) *Delivery {
	return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: tank, At: at(month, day, hour), Measure: at15(v), Document: key}
}

// The tanks hold 10 L of a millimetre. The meter runs 300 L a day, 2 100 L a week, out of tank A, which falls by 210 mm.
func TestWhatIsTrueIsNotDoubtedForWhatNobodyWroteDown(t *testing.T) {
	heat := func(month time.Month, days int) *Draw {
		return draw(calendar.Date(2026, month, 1), calendar.Date(2026, month, days), units.Litres(60*days), Heat)
	}
	flights := func(days ...int) (all []*Delivery) {
		for _, d := range days { // two a day that differ a little
			all = append(all, brought(day(d).String()+"a", "A", time.January, d, 12, 4500), brought(day(d).String()+"b", "A", time.January, d, 12, 4550))
		}
		all = append(all, brought("x", "A", time.January, 27, 12, 4500), brought("y", "A", time.January, 27, 12, 4500))
		for _, d := range all {
			d.Document = ""
		}
		return all
	}
	tests := []struct {
		name string
		rows Rows
		want []told
	}{
		// 60 L a day beside the 300: 252 mm a week. In the week of the turn of the month 2 000 L came, and 420 L of the heat of two
		// months, 3 540 L, left.
		{"heat by the month", Rows{Gaugings: dipped("A", 4000, 3748, 3496, 3244, 2992, 2940, 2688), Draws: []*Draw{heat(time.January, 31), heat(time.February, 28)},
			Deliveries: []*Delivery{brought("d", "A", time.January, 31, 13, 2000)}}, nil},
		// −210 + 200 mm: one of the three came before the dip of the day, which names no hour of them.
		{"three loads of one day about a dip", Rows{Gaugings: dipped("A", 4000, 3990, 4180, 3970),
			Deliveries: []*Delivery{brought("d1", "A", time.January, 8, 12, 2000), brought("d2", "A", time.January, 8, 12, 2010), brought("d3", "A", time.January, 8, 12, 1990)}}, nil},
		// Of the 6 000 L 1 000 went into A and 5 000 into B.
		{"a bill that names no tank beside one that does", Rows{Gaugings: append(dipped("A", 4000, 3790, 3980, 3770), dipped("B", 3000, 3000, 3500, 3500)...),
			Deliveries: []*Delivery{brought("d1", "A", time.January, 10, 13, 3000), brought("d2", "", time.January, 10, 14, 6000)}}, nil},
		// B was not dipped on the 8th, after which 2 000 L came into each.
		{"a tank that was not dipped in the round before", Rows{Gaugings: append(dipped("A", 4000, 3790, 3780, 3570), without2nd(dipped("B", 3000, 3300, 3500, 3500))...),
			Deliveries: []*Delivery{brought("d1", "B", time.January, 5, 13, 3000), brought("d2", "", time.January, 10, 13, 4000)}}, nil},
		// At the turn of the day the tank held 37 900 L, and the dip at 08:00 found what was left.
		{"a transfer of the minute of the dip", Rows{Gaugings: dipped("A", 4000, 1290),
			Transfers: []*Transfer{{Entry: Entry{Key: "t"}, Plant: "P", From: "A", To: "mid", At: at(time.January, 8, 8), Measure: at15(25_000)}}}, nil},
		// The 30 000 L are in the dip of their day: before them there was room for them in A.
		{"by its day, and the newest dip has it", Rows{Gaugings: append(dipped("A", 4000, 6790), dipped("B", 7900, 7900)...),
			Deliveries: []*Delivery{brought("d", "", time.January, 8, 12, 30_000)}}, nil},
		// No dip follows. 4 500 L are more than 5 % of the tank.
		{"flights without documents", Rows{Gaugings: dipped("A", 2000), Deliveries: flights(6, 13, 20)}, nil},
		{"flights on two days before", Rows{Gaugings: dipped("A", 2000), Deliveries: flights(6, 13)}, []told{{"y", Duplicate, WholeRow}}},
	}
	for _, tt := range tests {
		tt.rows.Readings = even(60)
		tanks := []*Tank{upright("A")}
		if tt.rows.Gaugings[len(tt.rows.Gaugings)-1].Tank == "B" {
			tanks = append(tanks, upright("B"))
		}
		if tt.rows.Transfers != nil {
			tanks = append(tanks, volumeTank("mid", Intermediate, 100_000))
		}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, tt.rows, tanks...))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

func without2nd(g []*Gauging) []*Gauging { return append(g[:1:1], g[2:]...) }

// Dips four weeks apart: 8 400 L run, 840 mm. 6 000 L came in the third month: 3 160 − 840 + 600 = 2 920. Four times the usual would
// let the tank fall to 640 mm.
func TestADipIsToBlameWhereADeliveryFitsTheDipsBesideIt(t *testing.T) {
	for _, tt := range []struct {
		name   string
		second units.Millimetres
		v      units.Litres
		want   []told
	}{
		{"as it was", 3160, 6000, nil},
		{"a dip in centimetres for inches", 3160 / 2.54, 6000, []told{{"A 0129", UnitsSwitched, WholeRow}}},
		{"a delivery in US gallons", 3160, 6000 / 3.785, []told{{"d", UnitsSwitched, WholeRow}}},
	} {
		all := dipped("A", 4000, 0, 0, 0, tt.second, 0, 0, 0, 2920, 0, 0, 0, 2080)
		rows := Rows{Readings: even(90), Gaugings: []*Gauging{all[0], all[4], all[8], all[12]}, Deliveries: []*Delivery{brought("d", "A", time.February, 10, 13, tt.v)}}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}
