package inventory

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// barges draws deliveries of a few moments and documents into four tanks, of which some are dipped daily and some never. No
// two are of one volume, so that none looks entered twice.
func barges(t *rapid.T) (rows Rows, tanks []*Tank) {
	rows.Readings = even(60)
	for _, id := range []string{"a", "b", "c", "d"} {
		tanks = append(tanks, upright(id))
		if rapid.Bool().Draw(t, "dipped") {
			for d := 7; d < 14; d++ {
				depth := units.Millimetres(rapid.IntRange(1000, 4000).Draw(t, "depth"))
				rows.Gaugings = append(rows.Gaugings, &Gauging{Entry: Entry{Key: fmt.Sprint(id, d)}, Plant: "P", Tank: id, At: at(time.January, d, 8),
					Depth: &depth, Temperature: ptr(units.Celsius(15))})
			}
		}
	}
	for i := range rapid.IntRange(1, 8).Draw(t, "deliveries") {
		d := &Delivery{Entry: Entry{Key: fmt.Sprint(rapid.IntRange(0, 9).Draw(t, "key"), i)}, Plant: "P", Measure: at15(units.Litres(3000 + 100*i)),
			At:       at(time.January, rapid.IntRange(8, 12).Draw(t, "day"), 14),
			Tank:     rapid.SampledFrom([]string{"a", "b", "c", "d", ""}).Draw(t, "tank"),
			Document: rapid.SampledFrom([]string{"", "7", "8"}).Draw(t, "document")}
		rows.Deliveries = append(rows.Deliveries, d)
	}
	return rows, tanks
}

// A correction has another key than the row that it replaces; once it is taken back every word and every figure of the receipts is
// as it was, but for the keys.
func TestACorrectionAndItsReversalRestoreEveryWordOfTheReceipts(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		rows, tanks := barges(t)
		i := rapid.IntRange(0, len(rows.Deliveries)-1).Draw(t, "which")
		with := func(key, replaces string, v units.Litres) ([]Receipt, notice.List) {
			r := rows
			r.Deliveries = slices.Clone(rows.Deliveries)
			changed := *rows.Deliveries[i]
			changed.Key, changed.Replaces, changed.Volume = key, replaces, v
			r.Deliveries[i] = &changed
			return bookOf(outer, r, tanks...).Receipts(0)
		}
		original := rows.Deliveries[i]
		want, wantNotes := with(original.Key, original.Replaces, original.Volume)
		wrong, _ := with("c1", original.Key, original.Volume+7000)
		isKey := cmp.Options{cmpopts.IgnoreFields(Receipt{}, "Keys"), cmpopts.IgnoreFields(Doubt{}, "Key"), cmpopts.IgnoreUnexported(Doubt{})}
		if cmp.Equal(want, wrong, isKey) {
			t.Fatal("7 000 L more changed no receipt")
		}
		key := rapid.SampledFrom([]string{"", "5", "zz"}).Draw(t, "new key") + "c2"
		got, gotNotes := with(key, "c1", original.Volume)
		if diff := cmp.Diff(want, got, isKey) + cmp.Diff(wantNotes, gotNotes); diff != "" {
			t.Fatal(diff)
		}
	})
}
