package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
)

// Tank A holds 10 L of a millimetre, and the meter runs 2 100 L a week out of it, 210 mm. 2 000 L came on the 10th and 4 000 L on the
// 14th, and the dip of the 15th has both: 3 790 − 210 + 200 + 400 = 4 180 mm. Written down on the 16th, the second is not in what
// the tank should have risen until that dip, 2 000 L, and is until the dip after it.
func TestADipToBlameIsToldByTheDeliveryThatItHoldsAlready(t *testing.T) {
	for _, tt := range []struct {
		name string
		day  int
		want []told
	}{
		{"on its day", 14, nil},
		{"two days late", 16, []told{{"A 0115", DeliveryMistimed, WholeRow}}},
	} {
		rows := Rows{Readings: even(60), Gaugings: dipped("A", 4000, 3790, 4180, 3970, 3760),
			Deliveries: []*Delivery{brought("d1", "A", time.January, 10, 13, 2000), brought("d2", "A", time.January, tt.day, 7, 4000)}}
		if diff := cmp.Diff(tt.want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// 3 000 L for heat were entered twice, and left once: 3 790 − 210 − 300 + 900 = 4 180 mm. What is left out is not in what left, and the
// dip rose by the 9 000 L that were written down a day late.
func TestADrawThatIsLeftOutIsNotInWhatLeft(t *testing.T) {
	first, again := draw(calendar.Date(2026, 1, 12), calendar.Date(2026, 1, 12), 3000, Heat), draw(calendar.Date(2026, 1, 12), calendar.Date(2026, 1, 12), 3000, Heat)
	first.Key, again.Key, first.With, again.With = "h1", "h2", "school", "school"
	rows := Rows{Readings: even(60), Gaugings: dipped("A", 4000, 3790, 4180, 3970, 3760), Draws: []*Draw{first, again},
		Deliveries: []*Delivery{brought("d", "A", time.January, 15, 14, 9000)}}
	want := []told{{"h2", Duplicate, WholeRow}, {"A 0115", DeliveryMistimed, WholeRow}}
	if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
		t.Error(diff)
	}
}
