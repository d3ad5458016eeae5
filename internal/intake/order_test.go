package intake

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

var march = calendar.Date(2026, 3, 1)

func anOrder(key, id string) Order {
	return Order{
		Report: report(key), Measure: inventory.Measure{Volume: 20_000, Basis: inventory.Basis15}, ID: id, Route: "river", State: inventory.Committed,
		OrderedOn: march - 10, Early: march + 60, Likely: march + 70, Late: march + 90,
	}
}

func change(key string, state inventory.OrderState) OrderChange {
	return OrderChange{Report: report(key), ID: "O", State: state}
}

func TestWhatIsWrongWithAnOrderIsNamed(t *testing.T) {
	tests := []struct {
		name string
		with func(*Order)
		want []string
	}{
		{"no id", func(o *Order) { o.ID = "" }, []string{"id"}},
		{"received from the start", func(o *Order) { o.State = inventory.Received }, []string{"state"}},
		{"no state", func(o *Order) { o.State = "" }, []string{"state"}},
		{"a route that does not serve the plant", func(o *Order) { o.Route = "road" }, []string{"route"}},
		{"a route that is not there", func(o *Order) { o.Route = "rail" }, []string{"route"}},
		{"ordered tomorrow", func(o *Order) { o.OrderedOn = march + 2 }, []string{"ordered_on"}},
		{"arrival out of order, no volume", func(o *Order) { o.Early, o.Volume = march+80, 0 }, []string{"early", "volume"}},
	}
	d, _ := newDesk(t)
	for _, tt := range tests {
		o := anOrder("k", "O")
		tt.with(&o)
		_, err := d.Order(t.Context(), o)
		if diff := cmp.Diff(tt.want, refused(t, err, fault.Invalid)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

func TestAnOrderIsTakenOnce(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	if got := must(t)(d.Order(t.Context(), anOrder("k", "O"))); got.Known != 1 {
		t.Errorf("%+v, want it known", got)
	}
	must(t)(d.ChangeOrder(t.Context(), change("c", inventory.InTransit)))
	if got := must(t)(d.Order(t.Context(), anOrder("k", "O"))); got.Known != 1 {
		t.Errorf("after a change: %+v, want it known", got)
	}
	_, err := d.Order(t.Context(), anOrder("other", "O"))
	if refused(t, err, fault.Conflict); !strings.Contains(err.Error(), `has an order "O" already`) {
		t.Error(err)
	}
	other := anOrder("k", "P")
	_, err = d.Order(t.Context(), other)
	refused(t, err, fault.Conflict)
}

func TestAChangeStaysKnownAfterLaterChanges(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	sail := change("sail", inventory.InTransit)
	sail.Likely = p(march + 75)
	steps := []OrderChange{sail, change("come", inventory.Received), change("undo", inventory.InTransit), change("come again", inventory.Received)}
	steps[3].Key = "come-again"
	for i, step := range steps {
		if got := must(t)(d.ChangeOrder(t.Context(), step)); got.New != 1 || got.Known != 0 {
			t.Errorf("step %d: %+v", i, got)
		}
		for j, earlier := range steps[:i+1] {
			if got := must(t)(d.ChangeOrder(t.Context(), earlier)); got.New != 0 || got.Known != 1 {
				t.Errorf("step %d sent again after step %d: %+v", j, i, got)
			}
		}
	}
	rows := ledger(t, d)
	if len(rows.Orders) != 1 || rows.Orders[0].State != inventory.Received || rows.Orders[0].Likely != march+75 || rows.Orders[0].Volume != 20_000 {
		t.Errorf("%+v", rows.Orders[0])
	}
}

func TestAChangesKeyStandsForOneChange(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	must(t)(d.ChangeOrder(t.Context(), change("c", inventory.InTransit)))
	_, err := d.ChangeOrder(t.Context(), change("c", inventory.Cancelled))
	refused(t, err, fault.Conflict)
	for _, key := range []string{"e", "f", "g"} {
		must(t)(d.ChangeOrder(t.Context(), change(key, inventory.Received)))
		_, err = d.ChangeOrder(t.Context(), change("c", inventory.Cancelled))
		refused(t, err, fault.Conflict)
		if got := must(t)(d.ChangeOrder(t.Context(), change("c", inventory.InTransit))); got.Known != 1 {
			t.Errorf("%+v, want it known", got)
		}
	}
}

func TestAWrongStepIsMendedAndSaysSo(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	got := must(t)(d.ChangeOrder(t.Context(), change("1", inventory.Received)))
	if diff := cmp.Diff([]string{CodeOrderNotCome}, codes(got)); diff != "" {
		t.Error(diff)
	}
	got = must(t)(d.ChangeOrder(t.Context(), change("2", inventory.Committed)))
	if diff := cmp.Diff([]string{CodeOrderReopened}, codes(got)); diff != "" {
		t.Error(diff)
	}
	must(t)(d.Delivery(t.Context(), Delivery{Report: report("d"), At: evening(0), Order: "O", Tank: "a",
		Measure: inventory.Measure{Volume: 10_000, Temperature: p(units.Celsius(3))}}))
	if got = must(t)(d.ChangeOrder(t.Context(), change("3", inventory.Received))); codes(got) != nil {
		t.Errorf("%v, want nothing doubtful once a delivery names the order", codes(got))
	}
}

func TestAChangeIsRefusedWhereItCannotStand(t *testing.T) {
	d, _ := newDesk(t)
	_, err := d.ChangeOrder(t.Context(), change("c", inventory.Received))
	refused(t, err, fault.NotFound)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	c := change("c", "lost")
	c.Early = p(march + 100)
	_, err = d.ChangeOrder(t.Context(), c)
	if diff := cmp.Diff([]string{"state", "early"}, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
}
