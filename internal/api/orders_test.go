package api_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// standing is what the tests read of a plant's advice.
type standing struct {
	Open        []advice.Expected               `json:"open_orders"`
	Proposed    []advice.Expected               `json:"proposed_orders"`
	Clearances  []inventory.OrderClearanceState `json:"clearances"`
	Overfull    []advice.Overfull               `json:"overfull"`
	ReserveDate resupply.Dates                  `json:"reserve_date"`
	Notices     []struct{ Code, Subject string }
}

func (s standing) has(code string) bool {
	for _, n := range s.Notices {
		if n.Code == code {
			return true
		}
	}
	return false
}

func (w *world) standing(t *testing.T) (s standing) {
	t.Helper()
	w.get("/api/v1/plants/marten-spit/advice").want(t, 200).read(t, &s)
	return s
}

// tells checks that an answer has a notice.
func (a answer) tells(t *testing.T, code string) {
	t.Helper()
	var s standing
	if a.read(t, &s); !s.has(code) {
		t.Errorf("%s does not tell %s: %+v", a.Request.URL, code, s.Notices)
	}
}

func (w *world) inTransit(t *testing.T) float64 {
	t.Helper()
	var answer struct{ Stock advice.Stock }
	w.get("/api/v1/plants/marten-spit/stock").want(t, 200).read(t, &answer)
	return answer.Stock.InTransit
}

func (w *world) life(t *testing.T, order string) inventory.OrderLife {
	t.Helper()
	var answer struct{ Orders []inventory.OrderLife }
	w.get("/api/v1/plants/marten-spit/orders").want(t, 200).read(t, &answer)
	for _, o := range answer.Orders {
		if o.Order == order {
			return o
		}
	}
	t.Fatalf("order %s is not listed", order)
	return inventory.OrderLife{}
}

// The plant holds some 73 900 L, burns about 270 a day and reaches its reserve late in the year: 20 000 L put that off.
func TestEachStateOfAnOrderEntersTheAdviceAtOnce(t *testing.T) {
	w := open(t)
	before := w.standing(t)
	if before.ReserveDate.P50 == nil {
		t.Fatal("the plant never reaches its reserve")
	}
	w.post("/api/v1/plants/marten-spit/orders", "new", `{"order":"PO-7","volume_l":20000,"basis":"15C","state":"proposed","state_at":"2026-02-20T20:00:00Z",
		"ordered_on":"2026-02-20","order_by":"2026-04-01","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`).want(t, 201)
	steps := []struct {
		state         string
		counted, held bool // counted on; in transit
	}{
		{"proposed", false, false}, {"cleared", false, false}, {"ordered", true, false}, {"loaded", true, false}, {"in-transit", true, true},
		{"received", false, false}, {"closed", false, false}, {"committed", true, false}, {"cancelled", false, false},
	}
	for i, step := range steps {
		if i > 0 {
			w.post("/api/v1/plants/marten-spit/orders/PO-7/state", fmt.Sprint("step-", i), `{"who":"Desk","state":"`+step.state+`"}`).want(t, 201)
		}
		now := w.standing(t)
		later := *now.ReserveDate.P50 > *before.ReserveDate.P50
		if later != step.counted || (len(now.Open) == 1) != step.counted || (len(now.Proposed) == 1) != (i < 2) {
			t.Errorf("%s: the reserve is reached on %s after %s, %d open, %d proposed", step.state, now.ReserveDate.P50, before.ReserveDate.P50, len(now.Open), len(now.Proposed))
		}
		if (w.inTransit(t) == 20_000) != step.held {
			t.Errorf("%s: %v L are in transit", step.state, w.inTransit(t))
		}
	}
	life := w.life(t, "PO-7")
	var states []string
	for _, h := range life.History {
		states = append(states, string(h.State))
		if h.StateAt == nil {
			t.Errorf("nobody knows since when it is %s", h.State)
		}
	}
	want := []string{"proposed", "cleared", "ordered", "loaded", "in-transit", "received", "closed", "ordered", "cancelled"}
	if diff := cmp.Diff(want, states); diff != "" || *life.History[3].Who != "Desk" || life.OrderedOn.String() != "2026-03-02" {
		t.Errorf("%s: %+v", diff, life)
	}
}

func TestAnEarlierWordForAStateStaysAsItWasReported(t *testing.T) {
	w := open(t)
	w.post("/api/v1/plants/marten-spit/orders", "new", `{"order":"PO-7","volume_l":20000,"basis":"15C","state":"committed","ordered_on":"2026-03-02","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`).want(t, 201)
	if open := w.standing(t).Open; len(open) != 1 || open[0].State != "committed" {
		t.Errorf("%+v", open)
	}
	if life := w.life(t, "PO-7"); life.State != inventory.Ordered || !life.Counted || life.Expected != 20_000 {
		t.Errorf("%+v", life)
	}
}

// Of 20 000 L ordered for about 20 February 18 000 come on 2 March, ten days late.
func TestWhatCameIsHeldAgainstWhatWasOrdered(t *testing.T) {
	w := open(t)
	w.post("/api/v1/plants/marten-spit/orders", "new", `{"order":"PO-7","volume_l":20000,"basis":"15C","state":"in-transit","ordered_on":"2026-01-10","early":"2026-02-10","likely":"2026-02-20","late":"2026-03-05"}`).want(t, 201)
	w.post("/api/v1/plants/marten-spit/deliveries", "d", `{"at":"2026-03-02T20:30:00Z","order":"PO-7","volume_l":18000,"basis":"15C","tank":"farm-1"}`).want(t, 201)
	w.post("/api/v1/plants/marten-spit/orders/PO-7/state", "r", `{"state":"received"}`).want(t, 201)
	w.post("/api/v1/plants/marten-spit/orders/PO-7/state", "c", `{"state":"closed"}`).want(t, 201).tells(t, inventory.CodeOrderClosedShort)
	life := w.life(t, "PO-7")
	p := life.AsOrdered
	if life.Delivered == nil || p.More == nil || *p.More != -2000 || *p.DaysLate != 10 || life.Counted {
		t.Errorf("%+v", life)
	}
	if !w.standing(t).has(inventory.CodeOrderClosedShort) {
		t.Error("nobody is told that a tenth is missing")
	}
}

func TestAClearanceStandsUntilItIsGiven(t *testing.T) {
	w := open(t)
	w.post("/api/v1/plants/marten-spit/orders", "new", `{"order":"PO/7","volume_l":20000,"basis":"15C","state":"proposed","ordered_on":"2026-02-20","order_by":"2026-04-01","early":"2026-06-10","likely":"2026-06-20","late":"2026-07-05"}`).want(t, 201)
	path := "/api/v1/plants/marten-spit/orders/PO%2F7/clearances"
	credit := `{"who":"Desk","clearance":"credit","takes_days":21,"by":"Savings bank"}`
	w.post(path, "a", credit).want(t, 201)
	got := w.standing(t)
	if len(got.Clearances) != 1 || got.Clearances[0].State != inventory.ClearanceDue || got.Clearances[0].LastSafe.String() != "2026-03-11" || !got.has("clearance-due") {
		t.Errorf("%+v", got) // 1 April less 21 days, 9 days ahead
	}
	w.post("/api/v1/plants/marten-spit/orders/PO%2F7/state", "on", `{"state":"cleared"}`).want(t, 201).tells(t, "order-not-cleared")
	w.post(path, "b", `{"clearance":"credit","last_safe_on":"2026-03-01"}`).want(t, 201)
	if got = w.standing(t); got.Clearances[0].State != inventory.ClearanceOverdue || *got.Clearances[0].By != "Savings bank" || !got.has("clearance-overdue") {
		t.Errorf("%+v", got.Clearances)
	}
	w.post(path, "c", `{"clearance":"credit","cleared_on":"2026-03-02"}`).want(t, 201)
	if got = w.standing(t); got.Clearances[0].State != inventory.ClearanceGiven || got.has("clearance-overdue") {
		t.Errorf("%+v", got.Clearances)
	}
	w.post(path, "a", credit).want(t, 200) // sent again: nothing is written
	if life := w.life(t, "PO/7"); len(life.Clearances) != 1 || life.Clearances[0].ClearedOn == nil {
		t.Errorf("%+v", life.Clearances)
	}
	w.post(path, "d", `{"clearance":"credit","cleared_on":"2026-03-04"}`).want(t, 422)
	w.post("/api/v1/plants/marten-spit/orders/PO-8/clearances", "a", credit).want(t, 404)
	w.post("/api/v1/plants/marten-spit/withdrawals", "w", `{"who":"A","why":"Not needed.","kind":"clearance","row":"`+got.Clearances[0].Key+`"}`).want(t, 201)
	if got = w.standing(t); len(got.Clearances) != 0 {
		t.Errorf("%+v", got.Clearances)
	}
}

// The demo's order for Meridian Lagoon brings more than its tanks hold when it comes.
func TestAnOverfullOrderSaysWhatHasRoom(t *testing.T) {
	var s standing
	reading(t).get("/api/v1/plants/meridian-lagoon/advice").want(t, 200).read(t, &s)
	if len(s.Overfull) != 1 || len(s.Open) != 1 {
		t.Fatalf("%+v", s)
	}
	o := s.Overfull[0]
	if o.Litres != s.Open[0].Litres || o.RoomP50+o.Balance != o.Litres || o.RoomP10 > o.RoomP50 || o.RoomP50 > o.RoomP90 || o.BalanceMinor == nil {
		t.Errorf("%+v", o)
	}
	if o.RoomForAll.P50 == nil || *o.RoomForAll.P50 <= o.Arrives || len(o.Choices) < 2 || !s.has("order-overfull") {
		t.Errorf("%+v", o)
	}
}
