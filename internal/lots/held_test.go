package lots

import (
	"slices"
	"testing"

	"overwinter/internal/units"
)

// Window a is the cheap one, and would bring all 300 L that are needed by the end of b, if nothing held its lot. By hand.
func TestWhatHoldsALotIsNamed(t *testing.T) {
	litres, money := units.LitresAt15(120), Money(150)
	for _, tt := range []struct {
		name  string
		spoil func(p *Plant)
		lot   units.LitresAt15 // of a
		held  []Hold
	}{
		{"nothing", func(*Plant) {}, 300, nil},
		{"its largest lot", func(p *Plant) { p.Windows[0].Max = 200 }, 200, []Hold{{LargestLot, 0}}},
		{"the largest lot in steps of 70", func(p *Plant) { p.Windows[0].Max, p.Windows[0].Step = 200, 70 }, 140, []Hold{{LargestLot, 0}}},
		{"its smallest lot", func(p *Plant) { p.Windows[0].Min = 310 }, 310, []Hold{{SmallestLot, 0}}},
		{"the room at its own arrival", func(p *Plant) { p.Windows[0].Room = 150 }, 150, []Hold{{RoomIsFull, 0}}},
		{"the room at the next arrival", func(p *Plant) { p.Windows[1].Room, p.Windows[1].Fallback = 180, &Fallback{Price: 9} }, 180, []Hold{{RoomIsFull, 1}}},
		{"a limit in litres", func(p *Plant) { p.Limits = []Limit{{Name: "l", Windows: []int{0}, Litres: &litres}} }, 120, []Hold{{LimitIsMet, 0}}},
		{"a limit in money, of which 20 is fixed", func(p *Plant) {
			p.Windows[0].Fixed = 20
			p.Limits = []Limit{{Name: "k", Windows: []int{1}, Litres: &outOfTheWay}, {Name: "l", Windows: []int{0}, Money: &money}}
		}, 130, []Hold{{LimitIsMet, 1}}},
	} {
		p := &Plant{Name: "P", Windows: []Window{
			{Name: "a", Need: 100, Room: 1000, Max: 500, Price: 1},
			{Name: "b", Need: 300, Room: 1000, Max: 500, Price: 2},
		}}
		tt.spoil(p)
		plan, err := p.Best()
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if plan.Lots[0] != tt.lot || !slices.Equal(plan.Held[0], tt.held) {
			t.Errorf("%s: lots %v held by %v, want %v held by %v", tt.name, plan.Lots, plan.Held, tt.lot, tt.held)
		}
	}
}

// outOfTheWay is a limit that is out of the way.
var outOfTheWay = units.LitresAt15(900)

// Fixed 5 and 7, fuel 100 at 1 and 150 at 2, fallback 30 at 4; 20 L above the need of 80 at the end of a at 0.5, and none at the end of b.
func TestACostIsTheSumOfItsParts(t *testing.T) {
	p := &Plant{Windows: []Window{
		{Need: 80, Fixed: 5, Price: 1, Carrying: 0.5},
		{Need: 280, Fixed: 7, Price: 2, Carrying: 0.5, Fallback: &Fallback{Price: 4}},
	}}
	got := p.CostOf([]units.LitresAt15{100, 150}, []units.LitresAt15{0, 30})
	if want := (Cost{Total: 542, Fixed: 12, Fuel: 400, Fallback: 120, Carrying: 10}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}
