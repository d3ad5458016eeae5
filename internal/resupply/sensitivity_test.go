package resupply

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func days(n int) *int { return &n }

// sensitive gives the sensitivities by what is changed and by how much.
func sensitive(p *Problem) (all []Sensitivity, of func(Change, float64) Sensitivity) {
	all = p.Sensitivities(Decide(p))
	return all, func(what Change, by float64) Sensitivity {
		return all[slices.IndexFunc(all, func(s Sensitivity) bool { return s.What == what && s.By == by })]
	}
}

// The plain case: order by day 46, 34 900 L. A day less or more of lead moves that day alone, for the fuel still
// comes on day 81. A day of the reserve is 100 L: with 1 900 L the reserve is lost on day 82, and day 429 needs
// 1 900 − (10 000 − 42 900) = 34 800 L. With 95 L a day it is lost when 10 000 − 95 t < 2 000, on day 85, four
// days later, and day 429 needs 2 000 − (10 000 − 40 755) = 32 755 L, 2 145 L less. All paths are the same and
// there is room for more than the lot, and the opening is not what binds: the rest changes nothing. In days of
// 100 L burn counts 4 + 21.45, the reserve 1 + 1 and a day of lead 1.
func TestEachChangeOfThePlainCaseWorkedByHand(t *testing.T) {
	got, _ := sensitive(plain())
	want := []Sensitivity{
		{What: ChangedBurn, By: -5, OrderByDays: days(4), Lot: -2145},
		{What: ChangedReserveL, By: -100, OrderByDays: days(1), Lot: -100},
		{What: ChangedLead, By: -1, OrderByDays: days(1)},
		{What: ChangedLead, By: 1, OrderByDays: days(-1)},
		{What: ChangedRoom, By: 1000, OrderByDays: days(0)},
		{What: ChangedRisk, By: -1, OrderByDays: days(0)},
		{What: ChangedRisk, By: 1, OrderByDays: days(0)},
		{What: ChangedOpening, By: -7, OrderByDays: days(0)},
	}
	for i := range want {
		want[i].Status, want[i].Route, want[i].Window = OrderSoon, "barge", "summer"
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Tanks for 30 000 L have room for 28 000 L of the 34 900 L needed: 1 000 L more room are 1 000 L more of the
// lot, and as much less is missing after it.
func TestMoreRoomIsMoreLotAndLessMissingWhereRoomKeepsItDown(t *testing.T) {
	p := plain()
	p.Capacity = []Capacity{{0, 30_000}}
	_, of := sensitive(p)
	if got := of(ChangedRoom, 1000); got.Lot != 1000 || got.Short != -1000 || *got.OrderByDays != 0 {
		t.Errorf("%+v", got)
	}
}

// The window opens on day 100: 2 400 L are missing by day 104, and the order is due by 100 − 30. Opening a week
// earlier, it brings fuel on day 98: 2 000 − (10 000 − 9 700) = 1 700 L are missing, and the order is due a
// week earlier. With 700 L less flown in the lot must be 700 L more.
func TestAWindowThatOpensAWeekEarlierShortensAShortage(t *testing.T) {
	p := plain()
	p.Windows = []Window{window(100, 160), window(465, 525)}
	_, of := sensitive(p)
	if got := of(ChangedOpening, -7); got.Short != -700 || got.Lot != 700 || *got.OrderByDays != -7 || got.Status != Short {
		t.Errorf("%+v", got)
	}
}

// Thirty days at 100 L are 3 000 L, reached on day 71; 29 days are 2 900 L, reached on day 72, and on day 429 they
// ask for 100 L less.
func TestAReserveInDaysIsLessByADay(t *testing.T) {
	p := plain()
	p.Reserve = Reserve{Days: 30}
	_, of := sensitive(p)
	if got := of(ChangedReserve, -1); *got.OrderByDays != 1 || got.Lot != -100 {
		t.Errorf("%+v", got)
	}
}

// What lasts to within a day of the horizon lasts beyond it with less burn: the order goes, and that counts most.
func TestAnOrderThatGoesHasNoDaysAndCountsMost(t *testing.T) {
	p := plain()
	p.Stock = same(paths, 70_000.0) // below 2 000 first at t = 681
	p.Windows = []Window{window(600, 690)}
	got, _ := sensitive(p)
	if s := got[0]; s.What != ChangedBurn || s.OrderByDays != nil || s.Route != "" || s.Status != InHand {
		t.Errorf("first %+v, want the order gone with less burn", s)
	}
}

func TestWhatCannotBeChangedIsLeftOut(t *testing.T) {
	p := plain()
	p.Capacity, p.Windows, p.Risk = nil, nil, 0.01
	for _, s := range p.Sensitivities(Decide(p)) {
		if s.What == ChangedRoom || s.What == ChangedOpening || s.What == ChangedRisk && s.By < 0 {
			t.Errorf("%+v", s)
		}
	}
}

// What is told of a change is the difference of two answers, and asking for it changes neither.
func TestSensitivitiesLeaveTheProblemAsItWas(t *testing.T) {
	for seed := range uint64(40) {
		p := newDraw(seed).plant()
		d := Decide(p)
		p.Sensitivities(d)
		before, after := d.Explanation, Decide(p).Explanation
		if diff := cmp.Diff(before, after); diff != "" {
			t.Fatalf("plant %d: %s", seed, diff)
		}
	}
}
