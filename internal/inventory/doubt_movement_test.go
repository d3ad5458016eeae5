package inventory

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// Tank A holds 10 L a millimetre and was dipped at 1 000 mm on 15 January, 10 000 L; three deviations are 184 L at most. The day tank
// holds 1 000 L. A tenth and a little more, 12 %, is nobody's fault.
func TestATransferOfMoreThanItsSourceHeldIsDoubted(t *testing.T) {
	tests := []struct {
		name   string
		from   string
		d      int // of January, at noon
		v      units.Litres
		change func(*Rows)
		want   bool
	}{
		{"what the tank held", "A", 16, 10_000, nil, false},
		{"a tenth more", "A", 16, 11_000, nil, false},
		{"a quarter more", "A", 16, 12_500, nil, true},
		{"a quarter more, after a delivery", "A", 18, 12_500, func(r *Rows) {
			r.Deliveries = []*Delivery{{Entry: Entry{Key: "d"}, Plant: "P", Tank: "A", At: at(time.January, 17, 9), Measure: at15(5000)}}
		}, false},
		// Nobody dipped it before: it holds 80 000 L at most.
		{"before the first dip", "A", 2, 80_000, nil, false},
		{"before the first dip, more than it can hold", "A", 2, 95_000, nil, true},
		{"what the day tank can hold", "day", 16, 1100, nil, false},
		{"more than the day tank can hold", "day", 16, 1200, nil, true},
		{"out of a tank that is not there", "elsewhere", 16, 90_000, nil, false},
	}
	for _, tt := range tests {
		rows := Rows{Gaugings: []*Gauging{dipped("A", 0, 0, 1000)[2]},
			Transfers: []*Transfer{{Entry: Entry{Key: "t"}, Plant: "P", From: tt.from, To: "mid", At: at(time.January, tt.d, 12), Measure: at15(tt.v)}}}
		if tt.change != nil {
			tt.change(&rows)
		}
		var want []told
		if tt.want {
			want = []told{{"t", BeyondSource, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A"), volumeTank("day", DayTank, 1000), volumeTank("mid", Intermediate, 100_000)))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// Twelve weeks of 700 L for heat, a little more and a little less.
func TestADrawIsHeldAgainstTheOthersOfItsPurpose(t *testing.T) {
	tests := []struct {
		name    string
		purpose Purpose
		weeks   int
		times   float64 // the sixth, of what it should be
		want    []told
	}{
		{"as usual", Heat, 12, 1, nil},
		{"in US gallons", Heat, 12, 1 / 3.785, []told{{"w05", UnitsSwitched, WholeRow}}},
		{"a digit more", Heat, 12, 10, []told{{"w05", DigitAdded, WholeRow}}},
		{"twice as much", Heat, 12, 2, nil},
		{"a digit more, vehicles", Vehicles, 12, 10, []told{{"w05", DigitAdded, WholeRow}}},
		// Sales are of any size.
		{"a digit more, sale", Sale, 12, 10, nil},
		{"the last of six", Heat, 6, 10, []told{{"w05", DigitAdded, WholeRow}}},
		{"all tanks together hold 51 000 L", Sale, 12, 600, []told{{"w05", BeyondSource, WholeRow}}},
	}
	for _, tt := range tests {
		var rows Rows
		for i := range tt.weeks {
			v := 700 + 10*float64(i%3)
			if i == 5 {
				v *= tt.times
			}
			first := calendar.Date(2026, 1, 1) + calendar.Day(7*i)
			rows.Draws = append(rows.Draws, &Draw{Entry: Entry{Key: fmt.Sprintf("w%02d", i)}, Plant: "P", FirstDay: first, LastDay: first + 6, Purpose: tt.purpose, Measure: at15(units.Litres(v))})
		}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
	// Where they differ by three times from week to week, US gallons are nothing odd: the deviation is 1.4826 · ln 3, and five of
	// it are far more than ln 3.785.
	varied := Rows{}
	for i := range 12 {
		v := []units.Litres{700, 2100, 700, 233}[i%4]
		if i == 5 {
			v *= 3.785
		}
		first := calendar.Date(2026, 1, 1) + calendar.Day(7*i)
		varied.Draws = append(varied.Draws, draw(first, first+6, v, Heat))
	}
	if got := toldOf(bookOf(t, varied)); got != nil {
		t.Errorf("varied: %v", got)
	}
	// Three draws do not tell what is usual, and purposes are held apart.
	rows := Rows{}
	for i, p := range []Purpose{Heat, Heat, Heat, Vehicles, Loan, Repayment} {
		rows.Draws = append(rows.Draws, &Draw{Entry: Entry{Key: fmt.Sprint(i)}, Plant: "P", FirstDay: calendar.Date(2026, 1, 1+7*i), LastDay: calendar.Date(2026, 1, 7+7*i), Purpose: p,
			Measure: at15([]units.Litres{700, 710, 7000, 70, 7000, 70}[i])})
	}
	if got := toldOf(bookOf(t, rows)); got != nil {
		t.Errorf("few: %v", got)
	}
}
