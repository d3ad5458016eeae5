package intake

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func TestARowIsConfirmedOnceByNameAndReason(t *testing.T) {
	d, refresh := newDesk(t)
	r := round("k", 0, 100, 50)
	must(t)(d.Round(t.Context(), r))
	row := ledger(t, d).Readings[0].Key
	refresh.calls = 0
	c := Confirmation{Report: Report{Key: "c", Plant: r.Plant, Who: "A. Operator", Why: "Read again."}, Kind: inventory.KindReading, Row: row}
	for i, want := range []Receipt{{New: 1, Advised: true}, {Known: 1, Advised: true}} {
		if got := must(t)(d.Confirm(t.Context(), c)); got.New != want.New || got.Known != want.Known || !got.Advised {
			t.Errorf("time %d: %+v", i+1, got)
		}
	}
	all := ledger(t, d).Confirmations
	if len(all) != 1 || all[0].Row != row || all[0].Of != inventory.KindReading || all[0].Who != "A. Operator" || all[0].Why != "Read again." || refresh.calls != 1 {
		t.Errorf("%d confirmations, advised %d times", len(all), refresh.calls)
	}
	c.Row = ledger(t, d).Readings[1].Key
	if _, err := d.Confirm(t.Context(), c); fault.KindOf(err) != fault.Conflict {
		t.Errorf("the same key for another row: %v", err)
	}
}

func TestWhatIsWrongWithAConfirmationIsNamed(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Round(t.Context(), round("k", 0, 100, 50)))
	row := ledger(t, d).Readings[0].Key
	for _, x := range []struct {
		name string
		with func(*Confirmation)
		want []string
	}{
		{"nobody", func(c *Confirmation) { c.Who = "" }, []string{"who"}},
		{"no reason", func(c *Confirmation) { c.Why = "" }, []string{"why"}},
		{"a row that is not there", func(c *Confirmation) { c.Row = "other" }, []string{"row"}},
		{"a row of another kind", func(c *Confirmation) { c.Kind = inventory.KindGauging }, []string{"row"}},
		{"no row", func(c *Confirmation) { c.Row = "" }, []string{"row"}},
	} {
		c := Confirmation{Report: Report{Key: "c", Plant: round("k", 0, 1, 1).Plant, Who: "A", Why: "B"}, Kind: inventory.KindReading, Row: row}
		x.with(&c)
		_, err := d.Confirm(t.Context(), c)
		if diff := cmp.Diff(x.want, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", x.name, diff)
		}
	}
	if n := len(ledger(t, d).Confirmations); n != 0 {
		t.Errorf("%d confirmations were written", n)
	}
}
