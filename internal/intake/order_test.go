package intake

import (
	"slices"
	"strings"
	"testing"
	"time"

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
	if diff := cmp.Diff([]string{inventory.CodeOrderJumped, inventory.CodeOrderNotCome}, codes(got)); diff != "" {
		t.Error(diff)
	}
	got = must(t)(d.ChangeOrder(t.Context(), change("2", inventory.Committed)))
	if diff := cmp.Diff([]string{inventory.CodeOrderReopened}, codes(got)); diff != "" {
		t.Error(diff)
	}
	must(t)(d.Delivery(t.Context(), Delivery{Report: report("d"), At: evening(0), Order: "O", Tank: "a",
		Measure: inventory.Measure{Volume: 10_000, Temperature: p(units.Celsius(3))}}))
	if got = must(t)(d.ChangeOrder(t.Context(), change("3", inventory.Received))); !slices.Equal(codes(got), []string{inventory.CodeOrderJumped}) {
		t.Errorf("%v, want nothing else doubtful once a delivery names the order", codes(got))
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

// The desk's moment is 3 March 2026, 06:00 UTC, the evening of 2 March at the plant.
func TestAStateIsKeptWithItsMoment(t *testing.T) {
	d, _ := newDesk(t)
	proposed := anOrder("k", "O")
	proposed.State, proposed.OrderBy = inventory.Proposed, p(march+20)
	must(t)(d.Order(t.Context(), proposed))
	placed := change("1", inventory.Ordered)
	placed.Likely = p(march + 72)
	steps := []struct {
		change    OrderChange
		at        time.Time
		orderedOn calendar.Day
	}{
		{change("0", inventory.Cleared), now, march - 10},
		{placed, now, march + 1}, // placed on the evening of 2 March
		{OrderChange{Report: report("2"), ID: "O", State: inventory.Loaded, StateAt: p(now.Add(-time.Hour))}, now.Add(-time.Hour), march + 1},
		{OrderChange{Report: report("3"), ID: "O", State: inventory.Loaded, Late: p(march + 95)}, now.Add(-time.Hour), march + 1}, // the same state: other dates
	}
	for i, step := range steps {
		must(t)(d.ChangeOrder(t.Context(), step.change))
		o := ledger(t, d).Orders[0]
		if !o.StateAt.Equal(step.at) || o.OrderedOn != step.orderedOn || *o.OrderBy != march+20 {
			t.Errorf("step %d: %s since %s, ordered on %s, by %s", i, o.State, o.StateAt, o.OrderedOn, o.OrderBy)
		}
	}
	late := change("4", inventory.InTransit)
	late.StateAt = p(now.Add(time.Hour))
	_, err := d.ChangeOrder(t.Context(), late)
	if diff := cmp.Diff([]string{"state_at"}, refused(t, err, fault.Invalid)); diff != "" {
		t.Error(diff)
	}
}

// Where advice stands at an earlier day, a state that is reported since is one of that day: else nothing would count it.
func TestAStateReportedAfterTheDayOfAdviceIsOfThatDay(t *testing.T) {
	d, _ := newDesk(t)
	d.AsOf = p(march)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	must(t)(d.ChangeOrder(t.Context(), change("1", inventory.Received)))
	_, end := march.Bounds(time.FixedZone("", -9*3600))
	if o := ledger(t, d).Orders[0]; !o.StateAt.Equal(end.Add(-time.Millisecond)) {
		t.Errorf("since %s, want just before %s", o.StateAt, end)
	}
}

func TestAnOrderMayBeginInAnyStateThatIsNotOver(t *testing.T) {
	d, _ := newDesk(t)
	for _, state := range append(inventory.OrderStates(), inventory.Committed) {
		o := anOrder("k-"+string(state), string(state))
		o.State = state
		if _, err := d.Order(t.Context(), o); (err == nil) == state.Over() {
			t.Errorf("a new order that is %s: %v", state, err)
		}
	}
}

func TestAnOrderThatGoesOnWithoutItsClearancesIsNamed(t *testing.T) {
	d, _ := newDesk(t)
	o := anOrder("k", "O")
	o.State = inventory.Cleared
	must(t)(d.Order(t.Context(), o))
	for _, name := range []string{"credit", "permit"} {
		must(t)(d.Clear(t.Context(), Clearance{Report: report(name), Order: "O", Name: name}))
	}
	must(t)(d.Clear(t.Context(), Clearance{Report: report("given"), Order: "O", Name: "permit", ClearedOn: p(march)}))
	got := must(t)(d.ChangeOrder(t.Context(), change("1", inventory.Ordered)))
	if len(got.Notices) != 1 || got.Notices[0].Code != CodeOrderNotCleared || !strings.Contains(got.Notices[0].Message, "is not given: credit.") {
		t.Errorf("%+v", got.Notices)
	}
}
