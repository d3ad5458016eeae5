package advice

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
	"overwinter/internal/units"
)

// A month of reserve has 365.25/12 = 30.4375 days: two have 60.875, three 91.3125, one and a half 45.656.
func TestTheReserveIsReckonedFromWhatIsStated(t *testing.T) {
	for _, tt := range []struct {
		plant inventory.Plant
		want  resupply.Reserve
		text  string
	}{
		{inventory.Plant{}, resupply.Reserve{Days: 30}, "30 days at the coming burn and draws"},
		{inventory.Plant{ReserveDays: ptr(0)}, resupply.Reserve{}, "0 L at 15 °C"},
		{inventory.Plant{ReserveLitres: ptr(units.LitresAt15(4000))}, resupply.Reserve{Litres: 4000}, "4000 L at 15 °C"},
		{inventory.Plant{ReserveMonths: ptr(2.0)}, resupply.Reserve{Days: 61}, "2 months of 365.25/12 days, 61 days, at the coming burn and draws"},
		{inventory.Plant{ReserveMonths: ptr(3.0)}, resupply.Reserve{Days: 91}, "3 months of 365.25/12 days, 91 days, at the coming burn and draws"},
		{inventory.Plant{ReserveMonths: ptr(1.5)}, resupply.Reserve{Days: 46}, "1.5 months of 365.25/12 days, 46 days, at the coming burn and draws"},
		{inventory.Plant{ReservePercent: ptr(12.5)}, resupply.Reserve{Share: 0.125}, "12.5 % of what the tanks in service can give when full"},
	} {
		if got := reserveOf(&tt.plant); got != tt.want {
			t.Errorf("%s: %+v, want %+v", tt.text, got, tt.want)
		}
		if got := reserveText(&tt.plant); got != tt.text {
			t.Errorf("%q, want %q", got, tt.text)
		}
		if got := fallbackAt(&tt.plant); got != tt.want {
			t.Errorf("%s: without more the fallback is bought at %+v", tt.text, got)
		}
		tt.plant.FallbackAtDays = ptr(9)
		if got := fallbackAt(&tt.plant); got != (resupply.Reserve{Days: 9}) {
			t.Errorf("%s: the fallback is bought at %+v, want 9 days", tt.text, got)
		}
	}
}

// byTruck is a plant served by trucks in winter and by air.
func byTruck() inventory.Rows {
	return inventory.Rows{
		Plants: []*inventory.Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}},
		Routes: []*inventory.Route{
			{ID: "road", Mode: inventory.WinterRoad, LeadDays: 10, LotMin: 30_000, LotMax: 200_000, Load: 40_000, PricePerLitre: 1.5, FreightPerLitre: 0.1,
				StopCost: 2000, PriceGrowth: 0.02, PriceSD: 0.2, Deliveries: 2, DaysBetween: 14, PayFrom: inventory.PayFromOrder, PayDays: 30, Currency: "CAD"},
			{ID: "air", Mode: inventory.Air, Fallback: true, LeadDays: 3, Load: 9000, PricePerLitre: 3.75, FreightPerLitre: 0.25, StopCost: 500, Currency: "CAD"},
			{ID: "plain", Mode: inventory.Barge, LeadDays: 30, LotStep: 500},
		},
		Services: []*inventory.Service{{Route: "road", Plant: "P"}, {Route: "air", Plant: "P"}},
		Windows: []*inventory.Window{{Route: "road", Name: "ice", Opens: inventory.MonthDay{Month: time.December, Day: 20},
			Closes: inventory.MonthDay{Month: time.March, Day: 20}, CutOff: &inventory.MonthDay{Month: time.March, Day: 10}}},
		WindowLimits: []*inventory.WindowLimit{
			{Route: "road", Name: "ice", From: inventory.MonthDay{Month: time.December, Day: 20}, Until: inventory.MonthDay{Month: time.January, Day: 10}, LotMax: 80_000, Cause: inventory.LimitWeight},
			{Route: "plain", Name: "summer", LotMax: 1, Cause: inventory.LimitOther},
		},
	}
}

func TestARouteIsPutToThePlanWithItsTerms(t *testing.T) {
	r := &run{dir: inventory.NewDirectory(byTruck()), past: pastFits{done: map[windowAsOf]*pastFit{}}}
	road, plain := r.routeOf(r.dir.Route("road"), asOf), r.routeOf(r.dir.Route("plain"), asOf)
	if want := (resupply.Lot{Min: 30_000, Max: 200_000, Step: 40_000}); road.Lot != want {
		t.Errorf("lots %+v, want whole loads: %+v", road.Lot, want)
	}
	if want := (resupply.Terms{Fixed: 2000, Price: 1.5, Freight: 0.1, Growth: 0.02, SD: 0.2, Deliveries: 2, Apart: 14, PayFromOrder: true, PayDays: 30, Currency: "CAD"}); road.Terms != want {
		t.Errorf("terms %+v, want %+v", road.Terms, want)
	}
	if plain.Terms != (resupply.Terms{Deliveries: 1}) || plain.Lot.Step != 500 {
		t.Errorf("without terms: %+v, %+v", plain.Terms, plain.Lot)
	}
	w := road.Recurring[0]
	limits := []resupply.LotLimit{{From: resupply.YearDate{Month: time.December, Day: 20}, Until: resupply.YearDate{Month: time.January, Day: 10}, Litres: 80_000, Why: resupply.WeightLimit}}
	if diff := cmp.Diff(limits, w.Limits); diff != "" || *w.CutOff != (resupply.YearDate{Month: time.March, Day: 10}) || w.OrderBy != nil {
		t.Errorf("window %+v\n%s", w, diff)
	}
	air := []resupply.Fallback{{Route: "air", Mode: "air", Load: 9000, LeadDays: 3, Price: 4, Fixed: 500, Currency: "CAD"}}
	if diff := cmp.Diff(air, r.fallbacks("P")); diff != "" {
		t.Errorf("fallbacks\n%s", diff)
	}
	want := []string{
		"lots of route road are whole loads of 40.0 kL", "nothing is delivered by window ice of road after 03-10, the cut-off",
		"window ice of road: at most 80.0 kL a lot from 12-20 to 01-10, by weight",
	}
	if got := r.supplyAssumptions("P"); !slices.Equal(got, want) {
		t.Errorf("assumed %q, want %q", got, want)
	}
}

// Under the loan 40 000 L were ordered by road, 2000 + 40 000 · (1.5 + 0.1) = 66 000, and 9000 L by air, 500 + 9000 · 4 = 36 500: of
// 150 000 are 47 500 left, and of 60 000 L 11 000. What was ordered before, or was cancelled, takes nothing off.
func TestASpendingLimitIsPutToThePlanLessWhatWasOrdered(t *testing.T) {
	rows := byTruck()
	limit := func(name string, from, until calendar.Day, amount *float64, volume *units.LitresAt15) {
		rows.SpendingLimits = append(rows.SpendingLimits, &inventory.SpendingLimit{
			Plant: "P", Name: name, Of: inventory.SpendingLoan, From: from, Until: until, Amount: amount, Currency: "CAD", Volume: volume})
	}
	limit("loan", asOf-30, asOf+60, ptr(150_000.0), ptr(units.LitresAt15(60_000)))
	limit("ended", asOf-90, asOf-1, ptr(1.0), nil)
	limit("to come", asOf+10, asOf+60, nil, ptr(units.LitresAt15(5000)))
	limit("used", asOf-30, asOf, nil, ptr(units.LitresAt15(100)))
	order := func(id, route string, on calendar.Day, litres units.Litres, state inventory.OrderState) *inventory.Order {
		return &inventory.Order{Entry: inventory.Entry{Key: id}, Plant: "P", ID: id, Route: route, State: state, OrderedOn: on,
			Measure: inventory.Measure{Volume: litres, Basis: inventory.Basis15}}
	}
	dir := inventory.NewDirectory(rows)
	book := func(orders ...*inventory.Order) *inventory.Book {
		b, err := inventory.NewBook(dir, "P", inventory.Rows{Orders: orders}, asOf)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	r := &run{dir: dir}
	var notes notice.List
	got := r.spending(book(order("a", "road", asOf-30, 40_000, inventory.InTransit), order("b", "air", asOf, 9000, inventory.Received),
		order("c", "road", asOf-31, 80_000, inventory.Committed), order("d", "road", asOf-3, 80_000, inventory.Cancelled)), &notes)
	want := []resupply.Spending{
		{Name: "loan", Kind: "loan", FromDay: -30, UntilDay: 60, Money: ptr(47_500.0), Litres: ptr(11_000.0), Currency: "CAD"},
		{Name: "to come", Kind: "loan", FromDay: 10, UntilDay: 60, Litres: ptr(5000.0), Currency: "CAD"},
		{Name: "used", Kind: "loan", FromDay: -30, UntilDay: 0, Litres: ptr(0.0), Currency: "CAD"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if len(notes) != 1 || notes[0].Code != CodeSpendingUsed || notes[0].Subject != "spending limit used" {
		t.Errorf("notices %v, want one of the limit that is used up", notes)
	}
	notes = nil
	got = r.spending(book(order("e", "", asOf-2, 100, inventory.Committed)), &notes)
	if *got[0].Money != 150_000 || len(notes) != 2 || notes[0].Subject != "spending limit loan" {
		t.Errorf("an order of no route leaves %v, notices %v", *got[0].Money, notes)
	}
}
