package inventory

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// A life: proposed with 12 000 L, ordered with 15 000 L for about 15 May, restated in transit for about 5 March, and received
// in two loads of 8 000 and 6 500 L on 8 and 10 March: 14 500 L, 500 less than ordered, 66 days before it was likely at
// first (22 days of March, 30 of April and 15 of May less one day counted: 10 March to 15 May is 21 + 30 + 15 = 66), 5 days
// after it was likely at last.
func TestALifeIsHeldAgainstItsPlans(t *testing.T) {
	step := func(key, replaces string, state OrderState, change func(*Order)) OrderWritten {
		o := may(state)
		o.Entry = Entry{Key: key, Replaces: replaces, Who: "desk", Why: "as told"}
		change(o)
		return OrderWritten{o, at(time.March, 11, 9)}
	}
	plain := func(*Order) {}
	written := []OrderWritten{
		step("1", "", Proposed, func(o *Order) { o.Measure = at15(12_000) }),
		step("2", "1", Committed, plain),
		step("3", "2", InTransit, func(o *Order) {
			o.Early, o.Likely, o.Late = calendar.Date(2026, 3, 1), calendar.Date(2026, 3, 5), calendar.Date(2026, 3, 12)
		}),
	}
	received := *written[2].Order
	received.Entry, received.State, received.StateAt = Entry{Key: "4", Replaces: "3"}, Received, ptr(at(time.March, 10, 18))
	written = append(written, OrderWritten{&received, at(time.March, 11, 9)})
	var notes notice.List
	lives := bookOf(t, Rows{Orders: []*Order{&received}, Deliveries: []*Delivery{loadOf("d", 8, 8_000), loadOf("e", 10, 6_500)}}).
		OrderLives(NewDirectory(Rows{}), written, &notes)
	if len(lives) != 1 || len(lives[0].History) != 4 {
		t.Fatalf("%+v", lives)
	}
	life := lives[0]
	var states []OrderState
	for _, h := range life.History {
		states = append(states, h.State)
	}
	if diff := cmp.Diff([]OrderState{Proposed, Ordered, InTransit, Received}, states); diff != "" {
		t.Error(diff)
	}
	if got := life.History[1]; *got.Who != "desk" || *got.Why != "as told" || !got.RecordedAt.Equal(at(time.March, 11, 9)) || got.Key != "2" || codes(got.Notices)[0] != CodeOrderJumped {
		t.Errorf("the second step is %+v", got)
	}
	if d := life.Delivered; d.Litres != 14_500 || d.FirstOn != calendar.Date(2026, 3, 8) || d.LastOn != calendar.Date(2026, 3, 10) || d.Rows != 2 {
		t.Errorf("delivered %+v", d)
	}
	for _, p := range []struct {
		name       string
		plan       OrderPlan
		more, late float64
	}{{"as ordered", life.AsOrdered, -500, -66}, {"as stated", life.AsStated, -500, 5}} {
		if p.plan.Litres != 15_000 || float64(*p.plan.More) != p.more || float64(*p.plan.DaysLate) != p.late {
			t.Errorf("%s: %v L, %v more, %d days late; want %v more, %v late", p.name, p.plan.Litres, *p.plan.More, *p.plan.DaysLate, p.more, p.late)
		}
	}
}

func TestAnOrderOnItsWayHasNoDifferenceYet(t *testing.T) {
	var notes notice.List
	o := may(InTransit)
	life := bookOf(t, Rows{Orders: []*Order{o}, Deliveries: []*Delivery{loadOf("d", 8, 5_000)}}).
		OrderLives(NewDirectory(Rows{}), []OrderWritten{{o, at(time.March, 1, 9)}}, &notes)[0]
	if life.AsOrdered.More != nil || life.AsOrdered.DaysLate != nil || life.Expected != 10_000 || life.Delivered.Litres != 5_000 {
		t.Errorf("%+v", life)
	}
}

// The as-of day is 31 March 2026.
func TestAClearanceIsToldOfBeforeItsLastSafeDay(t *testing.T) {
	day := func(month time.Month, d int) *calendar.Day { return ptr(calendar.Date(2026, month, d)) }
	river := &Route{ID: "river", LeadDays: 30.5, SlipDays: 5}
	tests := []struct {
		name      string
		order     func(*Order)
		clearance Clearance
		state     ClearanceState
		last      *calendar.Day
		code      string
	}{
		{"stated, far off", nil, Clearance{LastSafeOn: day(time.April, 15)}, ClearanceOpen, day(time.April, 15), ""},
		{"stated, fourteen days off", nil, Clearance{LastSafeOn: day(time.April, 14)}, ClearanceDue, day(time.April, 14), "clearance-due"},
		{"stated, today", nil, Clearance{LastSafeOn: day(time.March, 31)}, ClearanceDue, day(time.March, 31), "clearance-due"},
		{"stated, yesterday", nil, Clearance{LastSafeOn: day(time.March, 30)}, ClearanceOverdue, day(time.March, 30), "clearance-overdue"},
		{"given late", nil, Clearance{LastSafeOn: day(time.March, 1), ClearedOn: day(time.March, 20)}, ClearanceGiven, day(time.March, 1), ""},
		{"given after the day", nil, Clearance{LastSafeOn: day(time.March, 1), ClearedOn: day(time.April, 1)}, ClearanceOverdue, day(time.March, 1), "clearance-overdue"},
		// 10 April less 21 days is 20 March.
		{"by the order's last day", func(o *Order) { o.OrderBy = day(time.April, 10) }, Clearance{TakesDays: ptr(21)}, ClearanceOverdue, day(time.March, 20), "clearance-overdue"},
		// 15 May less 30.5 + 5 days, in whole days 36, is 9 April.
		{"by its route", func(o *Order) { o.Route = "river" }, Clearance{}, ClearanceDue, day(time.April, 9), "clearance-due"},
		{"of nothing", nil, Clearance{TakesDays: ptr(21)}, ClearanceUndated, nil, "clearance-undated"},
		{"of an order that is over", func(o *Order) { o.State = Cancelled }, Clearance{LastSafeOn: day(time.March, 30)}, "", nil, ""},
		{"of an order that is not there", func(o *Order) { o.ID = "B" }, Clearance{LastSafeOn: day(time.March, 30)}, "", nil, "clearance-of-no-order"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := may(Proposed)
			if tt.order != nil {
				tt.order(o)
			}
			c := tt.clearance
			c.Plant, c.Order, c.Name = "P", "A1", "credit"
			var notes notice.List
			got := bookOf(t, Rows{Orders: []*Order{o}, Clearances: []*Clearance{&c}}).Clearances(NewDirectory(Rows{Routes: []*Route{river}}), &notes)
			if tt.state != "" && (len(got) != 1 || got[0].State != tt.state || !cmp.Equal(got[0].LastSafe, tt.last)) || tt.state == "" && got != nil {
				t.Errorf("%+v, want %s by %v", got, tt.state, tt.last)
			}
			if tt.code == "" && notes != nil || tt.code != "" && (len(notes) != 1 || notes[0].Code != tt.code) {
				t.Errorf("%+v, want %s", notes, tt.code)
			}
		})
	}
}

func TestTheMostPressingClearanceComesFirst(t *testing.T) {
	of := func(order, name string, last *calendar.Day) *Clearance {
		return &Clearance{Plant: "P", Order: order, Name: name, LastSafeOn: last}
	}
	first, second := calendar.Date(2026, 3, 1), calendar.Date(2026, 6, 1)
	other := may(Ordered)
	other.ID = "B2"
	var notes notice.List
	var got []string
	for _, s := range bookOf(t, Rows{Orders: []*Order{may(Ordered), other}, Clearances: []*Clearance{
		of("A1", "undated", nil), of("B2", "permit", &second), of("A1", "credit", &second), of("B2", "signature", &first)}}).Clearances(NewDirectory(Rows{}), &notes) {
		got = append(got, s.Order+" "+s.Name)
	}
	if diff := cmp.Diff([]string{"B2 signature", "A1 credit", "B2 permit", "A1 undated"}, got); diff != "" {
		t.Error(diff)
	}
}
