package demo

import (
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func TestOrdersStandInEveryState(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	seen := map[inventory.OrderState]int{}
	replaced := 0
	gone := map[string]bool{}
	for _, o := range sc.Rows.Orders {
		gone[o.Replaces] = true
	}
	for _, o := range sc.Rows.Orders {
		seen[o.State]++
		if gone[o.Key] {
			replaced++
			continue
		}
		arrives, open := sc.Truth[o.Plant].Arrivals[o.ID]
		if o.Open() != open {
			t.Errorf("%s is %s and its true arrival known: %v", o.ID, o.State, open)
		}
		if open && (arrives.Day <= AsOf || math.Abs(float64(arrives.Volume/units.LitresAt15(o.Volume))-1) > 0.02) {
			t.Errorf("%s arrives on %s with %.0f L", o.ID, arrives.Day, arrives.Volume)
		}
	}
	for _, state := range inventory.OrderStates() {
		if seen[state] == 0 && state != inventory.Cleared {
			t.Errorf("no order is %s", state)
		}
	}
	if seen[inventory.Ordered] < 3 || seen[inventory.InTransit] < 2 || seen[inventory.Received] < 20 || seen[inventory.Cancelled] != 1 || replaced < 10 {
		t.Errorf("orders by state: %v, %d replaced", seen, replaced)
	}
}

func TestArrivalsFallAroundTheStatedDays(t *testing.T) {
	o := &inventory.Order{Early: AsOf + 30, Likely: AsOf + 40, Late: AsOf + 70}
	random := stream(3, "arrivals")
	const draws = 4000
	days := make([]calendar.Day, draws)
	for i := range days {
		days[i] = arrival(o, random)
	}
	slices.Sort(days)
	for share, want := range map[float64]calendar.Day{0.1: o.Early, 0.5: o.Likely, 0.9: o.Late} {
		// Standard errors of the quantiles are under 0.6 days; a day is the grain.
		if got := days[int(share*draws)]; got < want-2 || got > want+2 {
			t.Errorf("the %.0f %% point is %s, want %s", 100*share, got, want)
		}
	}
}

func TestEveryShapeOfTankAndEveryRoleIsThere(t *testing.T) {
	shapes, roles := map[inventory.ShapeKind]int{}, map[inventory.Role]int{}
	for _, row := range scenarioOf(DefaultSeed).Rows.Tanks {
		shapes[row.Shape]++
		roles[row.Role]++
	}
	if len(shapes) != 5 || len(roles) != 3 {
		t.Errorf("shapes %v, roles %v", shapes, roles)
	}
}

// Usable storage against a year's burn, as the sites of one and of two deliveries a year need it; reckoned
// from the tank volumes and deliveries of one territory's communities, 94 to 208 %, and the two-barge
// sites of the coast, 81 % and up.
func TestStorageFitsAYearsBurn(t *testing.T) {
	sc := scenarioOf(DefaultSeed)
	for _, spec := range plantSpecs() {
		if spec.plant.Group == "meridian" {
			continue // supplied several times a year
		}
		usable := 0.0
		for _, row := range of(spec.plant.ID, sc.Rows.Tanks) {
			if measured, err := row.Measured(); err == nil && row.Role == inventory.Storage && row.Product == spec.plant.Product {
				usable += float64(measured.SafeFill - measured.Suction)
			}
		}
		if ratio := usable / spec.burn.litresPerYear; ratio < 0.8 || ratio > 1.4 {
			t.Errorf("%s can store %.0f %% of a year", spec.plant.ID, 100*ratio)
		}
	}
}

func TestNoNameOfTheDemoIsLeftBlankOrDoubled(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range scenarioOf(DefaultSeed).Rows.Plants {
		if p.Name == "" || seen[p.Name] || strings.ToLower(strings.ReplaceAll(p.Name, " ", "-")) != p.ID {
			t.Errorf("plant %q is named %q", p.ID, p.Name)
		}
		seen[p.Name] = true
	}
}
