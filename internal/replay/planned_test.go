package replay

import (
	"slices"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// The window opened on day −60 and closes on day 90 or 100; an order takes 40 or 50 days. At most two visits, 45 days apart.
func TestAPlanCountsOnTheVisitsThatAreStillToCome(t *testing.T) {
	const asOf = calendar.Day(20_000)
	s := sureScenario()
	s.Window.Deliveries = 2
	o := &outlook{year: 2024, Window: resupply.Window{Opens: []int{-60, -60}, Closes: []int{90, 100}, Lead: []int{40, 50}, Slip: []int{0, 0}}}
	placed := func(nth, after, on, arrived int) order {
		one := order{call: call{visit{2024, nth}, after}, on: asOf + calendar.Day(on)}
		if arrived != 0 {
			one.arrived = asOf + calendar.Day(arrived)
		}
		return one
	}
	for _, tt := range []struct {
		name              string
		orders            []order
		opens, leads      []int
		left, after       int
		waiting, arrived  int
		orderedWithoutAsk bool
	}{
		{"none", nil, []int{-60, -60}, []int{40, 50}, 2, 0, 0, 0, false},
		{"one waiting, placed 30 days ago", []order{placed(0, 0, -30, 0)}, []int{-60, -60}, []int{10, 20}, 2, 0, 1, 0, true},
		{"one waiting that is to come 45 days after the opening", []order{placed(0, 45, -30, 0)}, []int{-15, -15}, []int{10, 20}, 2, 45, 1, 0, true},
		{"one overdue comes tomorrow at the earliest", []order{placed(0, 0, -45, 0)}, []int{-60, -60}, []int{1, 5}, 2, 0, 1, 0, true},
		{"two waiting", []order{placed(0, 0, -30, 0), placed(1, 45, -30, 0)}, []int{-60, -60}, []int{10, 20}, 2, 0, 2, 0, true},
		{"one came 20 days ago: the next in 25", []order{placed(0, 0, -90, -20)}, []int{25, 25}, []int{40, 50}, 1, 85, 0, 1, false},
		{"one came 20 days ago, one waits", []order{placed(0, 0, -90, -20), placed(1, 45, -30, 0)}, []int{25, 25}, []int{10, 20}, 1, 85, 1, 1, true},
		{"both came", []order{placed(0, 0, -90, -55), placed(1, 45, -90, -10)}, []int{35, 35}, []int{40, 50}, 0, 95, 0, 2, false},
	} {
		v := &view{s: &s, asOf: asOf, next: asOf + 30, orders: tt.orders}
		w, r := (&planned{}).window(v, o)
		if !slices.Equal(w.Opens, tt.opens) || !slices.Equal(w.Lead, tt.leads) || w.Terms.Deliveries != tt.left || (w.OrderBy != nil) != tt.orderedWithoutAsk ||
			r != (rest{2024, tt.arrived, tt.waiting, tt.after}) {
			t.Errorf("%s: opens %v, lead %v, %d deliveries, %+v", tt.name, w.Opens, w.Lead, w.Terms.Deliveries, r)
		}
	}
	if o.Opens[0] != -60 || o.Lead[0] != 40 {
		t.Error("the outlook is changed, which others share")
	}
}

// As if all were sure: one path of the middles.
func TestTheMeanPolicyPlansForTheMiddleOfWhatMayCome(t *testing.T) {
	s := sureScenario()
	o := &outlook{year: 2024, Window: resupply.Window{Opens: []int{9, 5, resupply.Never}, Closes: []int{90, 100, 80}, Lead: []int{40, 50, 30}, Slip: []int{0, 0, 0}}}
	w, _ := (&planned{sure: true}).window(&view{s: &s}, o)
	if w.Opens[0] != 9 || w.Closes[0] != 90 || w.Lead[0] != 40 || len(w.Opens) != 1 {
		t.Errorf("%+v", w)
	}
}
