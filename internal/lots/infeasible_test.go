package lots

import (
	"errors"
	"math"
	"strings"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// three is a plant of three windows, cheap and simple, that a test spoils.
func three(spoil func(p *Plant)) *Plant {
	p := &Plant{Name: "P", Windows: []Window{
		{Name: "a", Need: 100, Room: 300, Max: 200, Price: 1},
		{Name: "b", Need: 250, Room: 400, Max: 200, Price: 1},
		{Name: "c", Need: 390, Room: 500, Max: 200, Price: 1},
	}}
	spoil(p)
	return p
}

// The litres are by hand.
func TestAPlantWithoutAPlanSaysWhereAndByHowMuch(t *testing.T) {
	litres := func(x float64) *units.LitresAt15 { l := units.LitresAt15(x); return &l }
	money := func(x float64) *Money { m := Money(x); return &m }
	for _, tt := range []struct {
		name   string
		spoil  func(p *Plant)
		window int
		lack   Lack
		litres float64
	}{
		{"the lots are too small: 80 + 80 of 250", func(p *Plant) { p.Windows[0].Max, p.Windows[1].Max, p.Windows[0].Need = 80, 80, 50 }, 1, LackOfFuel, 90},
		{"the first window is shut", func(p *Plant) { p.Windows[0].Max = 0 }, 0, LackOfFuel, 100},
		{"the tank is too small: 230 of 250", func(p *Plant) { p.Windows[0].Room, p.Windows[1].Room = 150, 230 }, 1, LackOfFuel, 20},
		{"the opening stock does not fit", func(p *Plant) { p.Windows[0].Room = -7 }, 0, LackOfRoom, 7},
		{"what the first interval needs does not fit when the second begins", func(p *Plant) { p.Windows[0].Need, p.Windows[1].Room = 180, 160 }, 1, LackOfRoom, 20},
		{"the least lot of 160 does not fit, another source there is not", func(p *Plant) { p.Windows[0].Min, p.Windows[0].Room = 160, 150 }, 0, LackOfFuel, 100},
		{"the least lot of 160 stands in the way of the next arrival", func(p *Plant) { p.Windows[0].Min, p.Windows[1].Room = 160, 155 }, 1, LackOfRoom, 5},
		{"steps of 60 to 240, not 250: the room of 290 holds no fifth", func(p *Plant) {
			for i := range p.Windows {
				p.Windows[i].Step, p.Windows[i].Max, p.Windows[i].Room = 60, 180, 290
			}
		}, 1, LackOfFuel, 10},
		{"a limit of 220 in litres", func(p *Plant) { p.Limits = []Limit{{Name: "supplier", Windows: []int{0, 1, 2}, Litres: litres(220)}} }, 1, LackOfFuel, 30},
		{"a credit of 130 over a and b, of which 20 go to fixed costs", func(p *Plant) {
			p.Windows[0].Fixed = 20
			p.Limits = []Limit{{Name: "credit", Windows: []int{0, 1}, Money: money(130)}}
		}, 1, LackOfFuel, 140},
		{"loads fly past the room: two of 70 by the end of a, 140 of 130", func(p *Plant) {
			p.Windows[0].Max, p.Windows[0].Fallback, p.Windows[1].Room = 0, &Fallback{Price: 3, Load: 70}, 130
		}, 1, LackOfRoom, 10},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := three(tt.spoil)
			if flaws := p.Flaws(); flaws != nil {
				t.Fatal(flaws)
			}
			plan, err := p.Best()
			var why *Infeasible
			if !errors.As(err, &why) {
				t.Fatalf("%+v, %v", plan, err)
			}
			if why.Window != tt.window || why.Lack != tt.lack || math.Abs(float64(why.Litres)-tt.litres) > 1e-6 || why.Name != p.Windows[tt.window].Name {
				t.Errorf("%+v, want window %d, %s, %v L", why, tt.window, tt.lack, tt.litres)
			}
		})
	}
}

func TestOneLitreMoreMendsWhatIsLacking(t *testing.T) {
	p := three(func(p *Plant) { p.Windows[0].Room, p.Windows[1].Room = 150, 230 })
	_, err := p.Best()
	var why *Infeasible
	if !errors.As(err, &why) {
		t.Fatal(err)
	}
	p.Windows[1].Room += why.Litres
	if _, err := p.Best(); err != nil {
		t.Error(err)
	}
}

func TestTheOtherPlantsHaveTheirPlans(t *testing.T) {
	problem := Problem{Currency: "USD", Plants: []Plant{*three(func(p *Plant) { p.Windows[0].Max = 0 }), *three(func(p *Plant) { p.Name = "Q" })}}
	a, err := problem.Solve(t.Context())
	if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "P: at the end of window 1's interval (a) at least 100 L are missing") {
		t.Error(err)
	}
	if len(a.Plants) != 2 || a.Plants[0].Infeasible == nil || a.Plants[0].Cost != nil || a.Plants[1].Cost == nil || a.Cost != 390 || a.LowerBound != 390 {
		t.Errorf("%+v", a)
	}
}
