package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/units"
)

// The tank of 10 L a millimetre is dipped weekly and falls by 2 100 L a week. Two rows of 6 000 L stand in the week before 22 January, on
// the days and hours given; the tank rose by one of them, by both, or nobody dipped it after.
func TestADeliveryThatIsEnteredTwiceIsToldByTheDips(t *testing.T) {
	row := func(key, document string, d, hour int) *Delivery {
		return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: "A", At: at(time.January, d, hour), Document: document, Measure: at15(6000)}
	}
	tests := []struct {
		name               string
		first, second      *Delivery
		one, both, unknown string // the key of what is doubted
	}{
		{"one document, one hour", row("a", "7", 18, 12), row("b", "7", 18, 12), "b", "", "b"},
		{"one document, another day", row("a", "7", 17, 12), row("b", "7", 19, 12), "b", "", ""},
		{"one document, another hour of the day", row("a", "7", 18, 9), row("b", "7", 18, 15), "b", "", "b"},
		{"two documents", row("a", "7", 18, 12), row("b", "8", 18, 12), "", "", ""},
		// The one without the document is too many, though it came first.
		{"one has the document, one day", row("a", "", 18, 9), row("b", "7", 18, 15), "a", "", "a"},
		{"the other has it, one day", row("a", "7", 18, 9), row("b", "", 18, 15), "b", "", "b"},
		{"no document, one hour", row("a", "", 18, 12), row("b", "", 18, 12), "b", "", "b"},
		// Two flights a day bring the same load.
		{"no document, two hours of a day", row("a", "", 18, 9), row("b", "", 18, 15), "", "", ""},
	}
	for _, tt := range tests {
		for rose, want := range map[units.Millimetres]string{600: tt.one, 1200: tt.both, 0: tt.unknown} {
			rows := Rows{Readings: daily(70), Gaugings: dipped("A", 3000, 2790, 2580, 2370, 2160, 1950), Deliveries: []*Delivery{tt.first, tt.second}}
			if rose == 0 {
				rows.Gaugings = rows.Gaugings[:3]
			} else {
				for _, g := range rows.Gaugings[3:] {
					*g.Depth += rose
				}
			}
			got := ""
			for _, d := range bookOf(t, rows, upright("A")).Doubtful() {
				if d.Cause == Duplicate {
					got += d.Key
				}
			}
			if got != want {
				t.Errorf("%s, the tank rose by %v mm: doubted %q, want %q", tt.name, rose, got, want)
			}
		}
	}
}

// Two rows of 6 000 L of one document and one hour, and nobody dips the tank.
func TestOnlyTheSameFuelIsEnteredTwice(t *testing.T) {
	tests := []struct {
		name   string
		change func(first, second *Delivery, rows *Rows)
		want   bool
	}{
		{"the same", func(_, _ *Delivery, _ *Rows) {}, true},
		{"into two tanks", func(_, second *Delivery, _ *Rows) { second.Tank = "B" }, false},
		{"a tank and none", func(_, second *Delivery, _ *Rows) { second.Tank = "" }, false},
		{"of two volumes", func(_, second *Delivery, _ *Rows) { second.Volume = 6100 }, false},
		{"one says its product", func(_, second *Delivery, _ *Rows) { second.Product = "jet-a1" }, false},
		{"confirmed", func(_, _ *Delivery, rows *Rows) {
			rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindDelivery, Row: "b"}}
		}, false},
		{"after the as-of day", func(first, second *Delivery, _ *Rows) {
			first.At, second.At = at(time.April, 20, 12), at(time.April, 20, 12)
		}, false},
		{"jet fuel", func(first, second *Delivery, _ *Rows) {
			first.Tank, second.Tank, first.Product, second.Product = "", "", "jet-a1", "jet-a1"
		}, false},
	}
	for _, tt := range tests {
		row := func(key string) *Delivery {
			return &Delivery{Entry: Entry{Key: key}, Plant: "P", Tank: "A", At: at(time.March, 10, 12), Document: "7", Measure: at15(6000)}
		}
		rows := Rows{Deliveries: []*Delivery{row("a"), row("b")}}
		tt.change(rows.Deliveries[0], rows.Deliveries[1], &rows)
		var want []told
		if tt.want {
			want = []told{{"b", Duplicate, WholeRow}}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A"), upright("B")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}
