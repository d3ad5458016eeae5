package intake

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func TestAClearanceKeepsWhatIsLeftOut(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	reports := []Clearance{
		{Report: report("a"), Order: "O", Name: "credit", TakesDays: p(21), By: "Savings bank", Note: "ask early"},
		{Report: report("b"), Order: "O", Name: "credit", LastSafeOn: p(march + 30)},
		{Report: report("c"), Order: "O", Name: "credit", ClearedOn: p(march), TakesDays: p(0)},
	}
	for i, r := range reports {
		if got := must(t)(d.Clear(t.Context(), r)); got.New != 1 {
			t.Fatalf("report %d: %+v", i, got)
		}
		for j, earlier := range reports[:i+1] { // each again: nothing is written
			if got := must(t)(d.Clear(t.Context(), earlier)); got.New != 0 || got.Known != 1 {
				t.Errorf("report %d after %d: %+v", j, i, got)
			}
		}
	}
	rows := ledger(t, d).Clearances
	want := &inventory.Clearance{
		Entry: inventory.Entry{Key: "clearance/bay/O/c", Replaces: "clearance/bay/O/b", Who: rows[0].Who, Why: rows[0].Why},
		Plant: "bay", Order: "O", Name: "credit", LastSafeOn: p(march + 30), TakesDays: p(0), ClearedOn: p(march), By: "Savings bank", Note: "ask early",
	}
	if diff := cmp.Diff([]*inventory.Clearance{want}, rows); diff != "" {
		t.Error(diff)
	}
}

func TestWhatIsWrongWithAClearanceIsNamed(t *testing.T) {
	d, _ := newDesk(t)
	_, err := d.Clear(t.Context(), Clearance{Report: report("a"), Order: "O", Name: "credit"})
	refused(t, err, fault.NotFound)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	_, err = d.Clear(t.Context(), Clearance{Report: report("a"), Order: "O", ClearedOn: p(march + 5), TakesDays: p(-1)})
	if diff := cmp.Diff([]string{"clearance", "cleared_on", "takes_days"}, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
	must(t)(d.Clear(t.Context(), Clearance{Report: report("a"), Order: "O", Name: "credit"}))
	_, err = d.Clear(t.Context(), Clearance{Report: report("a"), Order: "O", Name: "permit"})
	refused(t, err, fault.Conflict) // the key stands for the first
}

func TestAWithdrawnClearanceMayBeEnteredAnew(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	credit := Clearance{Report: report("a"), Order: "O", Name: "credit", ClearedOn: p(march)}
	must(t)(d.Clear(t.Context(), credit))
	must(t)(d.Withdraw(t.Context(), Withdrawal{Report: Report{Key: "w", Plant: "bay", Who: "A", Why: "Given for another order."}, Kind: inventory.KindClearance, Row: "clearance/bay/O/a"}))
	if rows := ledger(t, d).Clearances; len(rows) != 0 {
		t.Fatalf("%+v", rows)
	}
	credit.Key, credit.ClearedOn = "b", nil
	must(t)(d.Clear(t.Context(), credit))
	if rows := ledger(t, d).Clearances; len(rows) != 1 || rows[0].ClearedOn != nil {
		t.Errorf("%+v", rows)
	}
}
