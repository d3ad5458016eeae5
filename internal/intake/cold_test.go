package intake

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func TestDegreeDaysAreOfThePlantsGroupAndHeldAgainstThoseThatAreThere(t *testing.T) {
	eachEngine(t, func(t *testing.T, d *Desk) {
		plant := *plantRows().Plants[0]
		plant.Entry, plant.Group = inventory.Entry{Key: "bay2", Replaces: "bay"}, "delta"
		if _, err := d.Ledger.Record(t.Context(), inventory.Rows{Plants: []*inventory.Plant{&plant}}, now); err != nil {
			t.Fatal(err)
		}
		february := func() *inventory.DegreeDays {
			return &inventory.DegreeDays{FirstDay: march - 28, LastDay: march - 1, Sum: 700, Under: 18}
		}
		must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: february()}))
		if got := ledger(t, d).DegreeDays; len(got) != 1 || got[0].Group != "delta" || got[0].Key != "degree-days/bay/k" {
			t.Fatalf("%+v", got)
		}
		otherBase := february()
		otherBase.FirstDay, otherBase.LastDay, otherBase.Sum, otherBase.Under = march, march, 20, 15.5
		for where, row := range map[string]*inventory.DegreeDays{"first_day": february(), "base": otherBase} {
			_, err := d.Row(t.Context(), RowReport{Report: report(where), Row: row})
			if diff := cmp.Diff([]string{where}, refused(t, err, fault.Invalid)); diff != "" || !strings.Contains(err.Error(), "degree-days/bay/k") {
				t.Errorf("%s%v does not name the row that is there", diff, err)
			}
		}
		corrected := february()
		corrected.Sum, corrected.Under = 560, 15.5
		must(t)(d.Row(t.Context(), RowReport{Report: because("right"), Replaces: "degree-days/bay/k", Row: corrected}))
		if got := must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: february()})); got.Known != 1 {
			t.Errorf("the first report sent again: %+v", got)
		}
	})
}
