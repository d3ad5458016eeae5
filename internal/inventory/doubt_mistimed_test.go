package inventory

import (
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/units"
)

// The meter runs 300 L a day, which are 30 mm of tank A, and A is dipped at 8:00. 9 000 L came, which are 900 mm.
func TestADeliveryWrittenDownForAnotherDayIsToldByTheDipsThatHoldIt(t *testing.T) {
	dips := func(came, every int) (all []*Gauging) {
		for d := 1; d <= 22; d += every {
			depth := units.Millimetres(3000 - 30*(d-1))
			if d > came {
				depth += 900
			}
			all = append(all, &Gauging{Entry: Entry{Key: "A " + at(time.January, d, 8).Format("0102")}, Plant: "P", Tank: "A", At: at(time.January, d, 8),
				Depth: &depth, Temperature: ptr(units.Celsius(15))})
		}
		return all
	}
	bill := func(d, hour int, v units.Litres, tank string) *Delivery {
		return &Delivery{Entry: Entry{Key: "d"}, Plant: "P", Tank: tank, At: at(time.January, d, hour), Document: "7", Measure: at15(v)}
	}
	tests := []struct {
		name string
		dips []*Gauging
		bill *Delivery
		want []told
	}{
		{"on its day", dips(14, 1), bill(14, 14, 9000, "A"), nil},
		// The dip of the 15th, 3 000 − 14 · 30 + 900 = 3 480 mm, is 900 mm above that of the 14th and the burn.
		{"a day late", dips(14, 1), bill(15, 14, 9000, "A"), []told{{"A 0115", DeliveryMistimed, WholeRow}}},
		{"a day late, and no tank said", dips(14, 1), bill(15, 14, 9000, ""), []told{{"A 0115", DeliveryMistimed, WholeRow}}},
		{"a day late, between weekly dips", dips(14, 7), bill(15, 14, 9000, "A"), []told{{"A 0115", DeliveryMistimed, WholeRow}}},
		// Two dips hold it: they stand, and it counts in them.
		{"two days late", dips(14, 1), bill(16, 14, 9000, "A"), []told{{"A 0115", DeliveryMistimed, RunBefore}, {"d", DeliveryMistimed, WholeRow}}},
		{"three days late", dips(14, 1), bill(17, 14, 9000, "A"), []told{{"A 0115", RiseUnexplained, RunBefore}, {"d", BesideTheDips, WholeRow}}},
		// The dip of the 15th, 3 000 − 14 · 30 = 2 580 mm, lacks it still.
		{"a day early", dips(15, 1), bill(14, 14, 9000, "A"), []told{{"A 0115", DeliveryMistimed, WholeRow}}},
		{"of another size", dips(14, 1), bill(15, 14, 6000, "A"), []told{{"A 0115", RiseUnexplained, WholeRow}}},
		{"into another tank", dips(14, 1), bill(15, 14, 9000, "B"), []told{{"A 0115", RiseUnexplained, RunBefore}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tanks := []*Tank{upright("A")}
			if tt.bill.Tank == "B" {
				tanks = append(tanks, upright("B"))
			}
			b := bookOf(t, Rows{Readings: even(60), Gaugings: tt.dips, Deliveries: []*Delivery{tt.bill}}, tanks...)
			if got := toldOf(b); !slices.Equal(got, tt.want) {
				t.Fatalf("%v, want %v", got, tt.want)
			}
			for _, d := range b.Doubtful() {
				if said := "the delivery of " + tt.bill.At.Format(minutes); d.Kind == KindGauging && strings.Contains(d.Message, said) != (d.Cause == DeliveryMistimed) {
					t.Errorf("%s does not say %q", d.Message, said)
				}
			}
		})
	}
}
