package inventory

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// 2 100 L a week by the meter, give or take 5 %; without it, as the dips before and after say, give or take half. A day tank of
// 1 000 L may have taken or given that much.
func TestWhatIsLikelyFollowsFromTheRunAndFromWhatMoved(t *testing.T) {
	move := func(from, to string, v units.Litres) func(*Rows) {
		return func(r *Rows) {
			r.Transfers = []*Transfer{{Plant: "P", From: from, To: to, At: at(time.January, 12, 12), Measure: at15(v)}}
		}
	}
	came := func(tank string, d, hour int) func(*Rows) {
		return func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: tank, At: at(time.January, d, hour), Measure: at15(4000)}}
			r.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "d"}}
		}
	}
	two := []*Tank{upright("A"), upright("B")}
	tests := []struct {
		name   string
		change func(*Rows)
		tanks  []*Tank
		want   litreRange
		known  bool
	}{
		{"the meter", nil, nil, litreRange{1995, 2205}, true},
		{"the meter and a day tank", nil, []*Tank{upright("A"), volumeTank("day", DayTank, 1000)}, litreRange{995, 3205}, true},
		{"no meter", func(r *Rows) { r.Readings = nil }, nil, litreRange{1050, 3150}, true},
		// The other may have given it all.
		{"two tanks", nil, two, litreRange{0, 2205}, true},
		{"300 L moved out", move("A", "B", 300), two, litreRange{0, 2505}, true},
		// They may have come before the dip: what it lost at most stays.
		{"300 L moved in", move("B", "A", 300), two, litreRange{-300, 2205}, true},
		{"a draw", func(r *Rows) {
			r.Draws = []*Draw{{Plant: "P", FirstDay: calendar.Date(2026, 1, 10), LastDay: calendar.Date(2026, 1, 11), Purpose: Heat, Measure: at15(500)}}
		}, nil, litreRange{1995, 2705}, true},
		// 4 000 L came, 5 % more or less.
		{"a delivery in between", came("A", 9, 20), nil, litreRange{1995 - 4200, 2205 - 3800}, true},
		{"a delivery into the other tank", came("B", 9, 20), two, litreRange{0, 2205}, true},
		{"a delivery on nobody knows which side of the dip", came("A", 8, 9), nil, litreRange{}, false},
		{"a delivery into one of two tanks", came("", 9, 20), two, litreRange{}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Gaugings: dipped("A", 6000, 5790, 5580, 5370, 5160, 4950, 4740, 4530, 4320)}
			for week := range 9 {
				rows.Readings = append(rows.Readings, reading(at(time.January, 1+7*week, 8), 20_000+2100*float64(week)))
			}
			if tt.tanks == nil {
				tt.tanks = []*Tank{upright("A")}
			}
			if tt.change != nil {
				tt.change(&rows)
			}
			lines, _ := bookOf(t, rows, tt.tanks...).tankLines()
			got, known := lines[0].net(at(time.January, 8, 8), at(time.January, 15, 8))
			close := func(a, b float64) bool { return math.Abs(a-b) < 1 } // the tank's 10 L a millimetre are within 0.01 %
			if known != tt.known || known && (!close(got.low, tt.want.low) || !close(got.high, tt.want.high)) {
				t.Errorf("%v %v, want %v %v", got, known, tt.want, tt.known)
			}
		})
	}
}

// By the dip before, 60 000 L less 2 100; by the one after, 55 800 L and 2 100 more: 57 900 L either way, give or take 105 L of
// the meter and three deviations of the dips: 3 mm and 1 °C at each, and the table on 2 100 L.
func TestWhatIsLikelyIsWhereBothWaysMeet(t *testing.T) {
	rows := Rows{Gaugings: dipped("A", 6000, 5790, 5580)}
	for week := range 3 {
		rows.Readings = append(rows.Readings, reading(at(time.January, 1+7*week, 8), 20_000+2100*float64(week)))
	}
	lines, _ := bookOf(t, rows, upright("A")).tankLines()
	l := lines[0]
	before, g, after := &l.gaugings[0], &l.gaugings[1], &l.gaugings[2]
	// √2 · (3 mm · 10 L) = 42; 0.00083 of 59 000 L = 49, √2 · 49 = 69; 0.5 % of 2 100 = 10.5: 3 · 82 = 245.
	both, ok := l.likely(before, g, after)
	if !ok || math.Abs(both.middle()-57_900) > 15 || both.high-both.low < 2*(105+230) || both.high-both.low > 2*(105+260) {
		t.Errorf("%v %v", both, ok)
	}
	if alone, ok := l.likely(before, g, nil); !ok || !alone.has(both.low) || !alone.has(both.high) {
		t.Errorf("by the one before alone: %v %v", alone, ok)
	}
	if _, ok := l.likely(nil, g, nil); ok {
		t.Error("by nothing")
	}
	// They do not meet: 10 000 L were lost in between.
	after.content.UsableAt15 -= 10_000
	if r, ok := l.likely(before, g, after); ok {
		t.Errorf("apart: %v", r)
	}
}
