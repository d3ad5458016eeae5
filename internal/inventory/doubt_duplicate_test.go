package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/units"
)

func TestARowThatIsThereAlreadyIsDoubted(t *testing.T) {
	move := func(key, from, to string, hour int, v units.Litres) Record {
		return &Transfer{Entry: Entry{Key: key}, Plant: "P", From: from, To: to, At: at(time.March, 10, hour), Measure: at15(v)}
	}
	drawn := func(key string, first, last int, p Purpose, with string, v units.Litres) Record {
		return &Draw{Entry: Entry{Key: key}, Plant: "P", FirstDay: day(first), LastDay: day(last), Purpose: p, With: with, Measure: at15(v)}
	}
	total := func(key string, first, last int, v units.Litres) Record {
		return &PeriodTotal{Entry: Entry{Key: key}, Plant: "P", FirstDay: day(first), LastDay: day(last), Measure: at15(v)}
	}
	warm := func(key string) Record {
		d := drawn(key, 1, 7, Heat, "", 300).(*Draw)
		d.Measure = Measure{Volume: 300, Temperature: ptr(units.Celsius(15))}
		return d
	}
	tests := []struct {
		name          string
		first, second Record
		want          bool // that the second is doubted
	}{
		{"a transfer", move("a", "bulk", "day", 9, 90), move("b", "bulk", "day", 9, 90), true},
		{"within a thousandth", move("a", "bulk", "day", 9, 1000), move("b", "bulk", "day", 9, 1000.9), true},
		{"two thousandths apart", move("a", "bulk", "day", 9, 1000), move("b", "bulk", "day", 9, 1002), false},
		{"of another hour", move("a", "bulk", "day", 9, 90), move("b", "bulk", "day", 10, 90), false},
		{"the other way", move("a", "bulk", "day", 9, 90), move("b", "day", "bulk", 9, 90), false},
		{"from another tank", move("a", "bulk", "day", 9, 90), move("b", "other", "day", 9, 90), false},
		{"into another tank", move("a", "bulk", "day", 9, 90), move("b", "bulk", "other", 9, 90), false},
		{"a draw of a week", drawn("a", 1, 7, Heat, "", 300), drawn("b", 1, 7, Heat, "", 300), true},
		{"of another basis", drawn("a", 1, 7, Heat, "", 300), warm("b"), false},
		{"for another purpose", drawn("a", 1, 7, Heat, "", 300), drawn("b", 1, 7, Vehicles, "", 300), false},
		{"of another week", drawn("a", 1, 7, Heat, "", 300), drawn("b", 2, 7, Heat, "", 300), false},
		{"that ends another day", drawn("a", 1, 7, Heat, "", 300), drawn("b", 1, 8, Heat, "", 300), false},
		{"of another volume", drawn("a", 1, 7, Heat, "", 300), drawn("b", 1, 7, Heat, "", 290), false},
		// Two vehicles may be filled alike on one day, and one of them by name may not.
		{"two vehicles", drawn("a", 5, 5, Vehicles, "", 80), drawn("b", 5, 5, Vehicles, "", 80), false},
		{"one vehicle", drawn("a", 5, 5, Vehicles, "grader", 80), drawn("b", 5, 5, Vehicles, "grader", 80), true},
		{"two vehicles by name", drawn("a", 5, 5, Vehicles, "grader", 80), drawn("b", 5, 5, Vehicles, "truck", 80), false},
		{"a total, whatever it says", total("a", 1, 15, 900), total("b", 1, 15, 1100), true},
		{"a total of other days", total("a", 1, 15, 900), total("b", 16, 31, 900), false},
		{"a total that begins another day", total("a", 1, 15, 900), total("b", 2, 15, 900), false},
	}
	for _, tt := range tests {
		var rows Rows
		rows.Add(tt.second)
		rows.Add(tt.first)
		var want []told
		if tt.want {
			want = []told{{"b", Duplicate, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// Of three the first stands, and what comes after the as-of day is not looked at.
func TestTheFirstOfARowThatIsEnteredAgainStands(t *testing.T) {
	var rows Rows
	for _, key := range []string{"c", "a", "b"} {
		rows.Transfers = append(rows.Transfers, &Transfer{Entry: Entry{Key: key}, Plant: "P", From: "bulk", To: "day", At: at(time.March, 10, 9), Measure: at15(90)},
			&Transfer{Entry: Entry{Key: "later " + key}, Plant: "P", From: "bulk", To: "day", At: at(time.April, 10, 9), Measure: at15(90)})
	}
	if diff := cmp.Diff([]told{{"b", Duplicate, WholeRow}, {"c", Duplicate, WholeRow}}, toldOf(bookOf(t, rows))); diff != "" {
		t.Error(diff)
	}
}
