package advice_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
)

// lagoon is the demo's hub of the atolls, whose order in transit brings more than its tanks hold when it comes, with
// another plant of its route where one is asked for.
func lagoon(change func(*inventory.Rows)) memory {
	var rows inventory.Rows
	whole := demo.Generate(demo.DefaultSeed).InForce()
	for r := range whole.All() {
		if id := r.PlantID(); id == "" || id == "meridian-lagoon" || id == "coral-step" {
			rows.Add(r)
		}
	}
	change(&rows)
	return memory{rows}
}

func orderOfLagoon(rows *inventory.Rows) *inventory.Order {
	i := slices.IndexFunc(rows.Orders, func(o *inventory.Order) bool { return o.ID == "meridian-lagoon-second-2026" })
	o := *rows.Orders[i]
	rows.Orders[i] = &o
	return &o
}

func choicesOf(o advice.Overfull) []advice.ChoiceKind {
	var kinds []advice.ChoiceKind
	for _, c := range o.Choices {
		kinds = append(kinds, c.Choice)
	}
	return kinds
}

func TestWhatMayBecomeOfABalanceDependsOnWhereTheOrderIs(t *testing.T) {
	back := demo.AsOf + 60
	tests := []struct {
		name   string
		change func(*inventory.Rows)
		want   []advice.ChoiceKind
		says   string
	}{
		{"in transit, one plant", func(*inventory.Rows) {}, []advice.ChoiceKind{advice.LeaveAboard, advice.LaterWindow}, "if the carrier can call again later"},
		{"not loaded yet", func(rows *inventory.Rows) { orderOfLagoon(rows).State = inventory.Committed },
			[]advice.ChoiceKind{advice.LoadLess, advice.LeaveAboard, advice.LaterWindow}, "kL less, and restate the order"},
		{"loaded", func(rows *inventory.Rows) { orderOfLagoon(rows).State = inventory.Loaded },
			[]advice.ChoiceKind{advice.LeaveAboard, advice.LaterWindow}, "leave "},
		{"a route of two plants", func(rows *inventory.Rows) {
			rows.Add(&inventory.Service{Entry: inventory.Entry{Key: "more"}, Plant: "coral-step", Route: "meridian-tanker"})
		}, []advice.ChoiceKind{advice.LeaveAboard, advice.LaterWindow}, "for a later stop of route meridian-tanker, which also serves Coral Step"},
		{"a tank out of service", func(rows *inventory.Rows) {
			i := slices.IndexFunc(rows.Tanks, func(t *inventory.Tank) bool { return t.Plant == "meridian-lagoon" && t.ID == "middle" })
			tank := *rows.Tanks[i]
			tank.OutFrom, tank.BackOn = new(demo.AsOf-1), &back
			rows.Tanks[i] = &tank
		}, []advice.ChoiceKind{advice.LeaveAboard, advice.LaterWindow, advice.TankBack}, "tank middle is out of service until " + back.String()},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := of(t, advise(t, lagoon(tt.change), options()), "meridian-lagoon")
			if len(p.Overfull) != 1 {
				t.Fatalf("%+v", p.Overfull)
			}
			o := p.Overfull[0]
			if got := choicesOf(o); !slices.Equal(got, tt.want) {
				t.Errorf("choices %v, want %v", got, tt.want)
			}
			if !slices.ContainsFunc(o.Choices, func(c advice.Choice) bool { return strings.Contains(c.Message, tt.says) }) {
				t.Errorf("no choice says %q: %+v", tt.says, o.Choices)
			}
			// Nothing is lost and nothing is twice: the order's litres are what has room and the balance, at the route's price.
			price := priceOf(lagoon(tt.change).rows, "meridian-tanker")
			if o.Litres != p.OpenOrders[0].Litres || math.Abs(o.RoomP50+o.Balance-o.Litres) > 1e-6 || *o.BalanceMinor != int64(math.Round(100*price*o.Balance)) {
				t.Errorf("%+v", o)
			}
		})
	}
}

func priceOf(rows inventory.Rows, route string) float64 {
	return rows.Routes[slices.IndexFunc(rows.Routes, func(r *inventory.Route) bool { return r.ID == route })].PricePerLitre
}

// A proposal changes nothing that the projection counts; the same order placed puts the reserve off, or fills the tanks.
func TestAProposalIsShownAndNotCountedOn(t *testing.T) {
	with := func(state inventory.OrderState) advice.Plant {
		return of(t, advise(t, lagoon(func(rows *inventory.Rows) {
			o := orderOfLagoon(rows)
			o.State, o.StateAt = state, nil
		}), options()), "meridian-lagoon")
	}
	none, proposed, placed := with(inventory.Cancelled), with(inventory.Proposed), with(inventory.Ordered)
	if !slices.Equal(none.Projection.P50, proposed.Projection.P50) || len(proposed.OpenOrders) != 0 || len(proposed.Proposed) != 1 || len(none.Proposed) != 0 {
		t.Errorf("a proposal is counted on: %+v, %+v", proposed.OpenOrders, proposed.Proposed)
	}
	if placed.Projection.P50[3] <= none.Projection.P50[3] || len(placed.OpenOrders) != 1 || placed.Stock.InTransit != 0 {
		t.Errorf("a placed order is not counted on: %v, %v", placed.Projection.P50[3], none.Projection.P50[3])
	}
	if sailing := with(inventory.InTransit); sailing.Stock.InTransit != 600_000 || *sailing.Stock.Usable != *none.Stock.Usable {
		t.Errorf("%v L in transit, %v in the tanks; want 600 000, and %v as without it", sailing.Stock.InTransit, *sailing.Stock.Usable, *none.Stock.Usable)
	}
}

func TestAClearanceThatPressesIsTold(t *testing.T) {
	for last, want := range map[calendar.Day]string{demo.AsOf - 1: "clearance-overdue", demo.AsOf + 14: "clearance-due", demo.AsOf + 15: ""} {
		p := of(t, advise(t, lagoon(func(rows *inventory.Rows) {
			rows.Add(&inventory.Clearance{Entry: inventory.Entry{Key: "c"}, Plant: "meridian-lagoon", Order: "meridian-lagoon-second-2026", Name: "credit", LastSafeOn: &last})
		}), options()), "meridian-lagoon")
		told := ""
		for _, n := range p.Notices {
			if strings.HasPrefix(n.Code, "clearance") {
				told = n.Code
			}
		}
		if told != want || len(p.Clearances) != 1 {
			t.Errorf("last safe on %s: told %q, want %q; %+v", last, told, want, p.Clearances)
		}
	}
}
