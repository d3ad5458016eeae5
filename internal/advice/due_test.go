package advice_test

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
)

func TestPlantsAreDueUntilTheyAreAdvisedForTheirOwnToday(t *testing.T) {
	ctx := context.Background()
	l := newLedger(some("cape-orrin", "meridian-lagoon")) // UTC−9 and UTC+12
	now := demo.Now
	o := adviserOptions()
	o.AsOf = nil
	a := advice.NewAdviser(l, o, func() time.Time { return now })
	due := func() []string {
		ids, err := a.Due(ctx, math.MaxInt64)
		if err != nil {
			t.Fatal(err)
		}
		return ids
	}
	both := []string{"cape-orrin", "meridian-lagoon"}
	if got := due(); !slices.Equal(slices.Sorted(slices.Values(got)), both) {
		t.Errorf("at first %v are due", got)
	}
	plant(t, a, "cape-orrin")
	if got := due(); !slices.Equal(got, both[1:]) {
		t.Errorf("%v are due after one was advised", got)
	}
	fleet(t, a)
	if got := due(); got != nil {
		t.Errorf("%v are due after the fleet was advised", got)
	}
	now = demo.Now
	l.add(oneMoreDelivery("cape-orrin", 1000))
	if got := due(); !slices.Equal(got, both[:1]) {
		t.Errorf("%v are due when a row was written for one of them", got)
	}
	if got, err := a.Due(ctx, l.version-1); err != nil || got != nil {
		t.Errorf("%v are due up to the version before it (%v)", got, err)
	}
	l.edit(func(*inventory.Rows) {}) // a route or a window
	if got := due(); len(got) != 2 {
		t.Errorf("%v are due when a row was written for both", got)
	}
	fleet(t, a)
	if got := due(); got != nil {
		t.Errorf("%v are due after the fleet was advised again", got)
	}
	now = time.Date(2026, time.March, 3, 13, 0, 0, 0, time.UTC) // 4 March in the west of the date line, 3 March in Alaska
	if got := due(); !slices.Equal(got, both[1:]) {
		t.Errorf("%v are due when a day has begun for one of them", got)
	}
}
