package tanks

import (
	"math"
	"math/rand/v2"
	"testing"

	"overwinter/internal/units"
)

// plant is what gaugings have in common in one simulated world: how far off the density, the assumed
// temperature and the expansion of shells are.
type plant struct {
	fuel    Corrector
	assumed units.Celsius
	shell   float64
}

// simulator draws worlds from a fixed seed and gauges tanks in them through the real geometry and the real factor.
type simulator struct {
	*rand.Rand
	t       testing.TB
	density units.KgPerM3
	assumed units.Celsius
}

func newSimulator(t testing.TB, assumed units.Celsius) *simulator {
	return &simulator{rand.New(rand.NewPCG(4, 11)), t, 845, assumed}
}

func (s *simulator) normal() float64 { return s.NormFloat64() }

func (s *simulator) world() plant {
	fuel, err := NewCorrector(s.density + units.KgPerM3(s.normal())*DensityPrecision)
	if err != nil {
		s.t.Fatal(err)
	}
	return plant{fuel, s.assumed + units.Celsius(s.normal())*AssumedTemperaturePrecision, s.normal() * ShellPrecision}
}

// level disturbs one level as it was read.
func (s *simulator) level(shape Shape, depth *units.Millimetres, volume *units.Litres, r *Reading) units.Litres {
	switch {
	case depth != nil:
		sigma := r.DepthPrecision
		if sigma == 0 {
			sigma = r.Gauge.DepthPrecision(shape.Depth())
		}
		return shape.Volume(*depth + units.Millimetres(s.normal())*sigma)
	case volume != nil:
		sigma := r.VolumePrecision
		if sigma == 0 {
			sigma = r.Gauge.VolumePrecision(shape, *volume)
		}
		return min(max(0, *volume+units.Litres(s.normal())*sigma), Capacity(shape))
	}
	return 0
}

// gauge gives usable stock and all fuel, in litres at 15 °C, of a tank whose table is off by a share.
func (s *simulator) gauge(tank *Tank, r *Reading, p *plant, table float64) (usable, fuel float64) {
	liquid := s.level(tank.Shape, r.Depth, r.Volume, r)
	water := s.level(tank.Shape, r.Water, r.WaterVolume, r)
	warmth := p.assumed
	if r.Temperature != nil {
		warmth = *r.Temperature + units.Celsius(s.normal())*TemperaturePrecision
	}
	factor := p.fuel.factor(min(max(warmth, Coldest), Hottest)) * table * (1 + 2*p.shell*float64(warmth-15))
	return float64(max(0, liquid-max(water, tank.Suction))) * factor, float64(max(0, liquid-water)) * factor
}

func (s *simulator) table() float64 { return 1 + s.normal()*TablePrecision }

const draws = 100000 // they know their own spread to 0.22 %

// agree holds a standard uncertainty against the spread of the draws, within 2 % of it.
func agree(t *testing.T, name string, sigma units.LitresAt15, spread float64) {
	t.Helper()
	t.Logf("%s: %.2f L, simulated %.2f L", name, float64(sigma), spread)
	near(t, name, float64(sigma), spread, 0.02*spread+1e-9)
}

// simulatedTanks are one of each way a volume rises with the depth.
func simulatedTanks(t testing.TB) map[string]Tank {
	kinked := []Point{{0, 0}, {40, 10}, {400, 3000}, {410, 3050}, {440, 3050}, {450, 5050}, {1200, 9000}, {1990, 21000}, {2000, 21010}}
	tanks := map[string]Tank{
		"lying":   {Shape: shape(t)(HorizontalCylinder(2400, 6000))},
		"upright": {Shape: shape(t)(VerticalCylinder(5000, 6000))},
		"box":     {Shape: shape(t)(Rectangular(5000, 2000, 2000))},
		"table":   {Shape: shape(t)(CapacityTable(kinked))},
	}
	for name, tank := range tanks {
		tank.SafeFill = Capacity(tank.Shape)
		tank.Suction = tank.Shape.Volume(100)
		tanks[name] = tank
	}
	return tanks
}

// The same readings, each disturbed at random: the spread of the results is the sigma, also where the error
// reaches below the suction, the water or the bottom, above the top, or across the kinks of a table.
func TestSigmaOfAStockIsTheSpreadOfDisturbedReadings(t *testing.T) {
	mm := func(x float64) *units.Millimetres { return new(units.Millimetres(x)) }
	cold, cool := new(units.Celsius(-35)), new(units.Celsius(5))
	tests := []struct {
		name, tank string
		r          Reading
	}{
		{"at the suction", "lying", Reading{Depth: mm(101), Water: mm(20), Temperature: cool}},
		{"just above the bottom", "lying", Reading{Depth: mm(4), Temperature: cold}},
		{"water at the suction", "lying", Reading{Depth: mm(600), Water: mm(99), Temperature: cool}},
		{"water just under the surface", "lying", Reading{Depth: mm(305), Water: mm(300), Temperature: cool}},
		{"quarter, float gauge", "lying", Reading{Gauge: FloatEighths, Depth: mm(600), Temperature: cool}},
		{"half, nobody read the temperature", "lying", Reading{Gauge: Tape, Depth: mm(1200)}},
		{"to the brim", "lying", Reading{Gauge: SightGlass, Depth: mm(2395), Temperature: cold}},
		{"quarter", "upright", Reading{Gauge: AutomaticCustody, Depth: mm(1500), Temperature: cold}},
		{"half, float gauge", "upright", Reading{Gauge: FloatEighths, Depth: mm(3000)}},
		{"full, float gauge", "upright", Reading{Gauge: FloatEighths, Depth: mm(6000), Temperature: cool}},
		{"a volume read, nearly empty", "box", Reading{Volume: new(units.Litres(1100)), WaterVolume: new(units.Litres(100)), Temperature: cool}},
		{"a volume read, full", "box", Reading{Volume: new(units.Litres(20000))}},
		{"on a flat stretch", "table", Reading{Gauge: Stick, Depth: mm(438), Water: mm(42), Temperature: cool}},
		{"beside a jump", "table", Reading{Gauge: AutomaticInventory, Depth: mm(460), Water: mm(42), Temperature: cold}},
		{"half, float gauge", "table", Reading{Gauge: FloatEighths, Depth: mm(1000)}},
		{"nearly full", "table", Reading{Depth: mm(1992), Temperature: cold}},
	}
	c, all := corrector(t, 845), simulatedTanks(t)
	for _, tt := range tests {
		t.Run(tt.tank+" "+tt.name, func(t *testing.T) {
			s, tank := newSimulator(t, -10), all[tt.tank]
			got, err := tank.Measure(tt.r, c, -10)
			if err != nil {
				t.Fatal(err)
			}
			usable, fuel := spreadsOf(draws, func() (float64, float64) {
				world := s.world()
				return s.gauge(&tank, &tt.r, &world, s.table())
			})
			agree(t, "usable", got.Sigma, usable)
			agree(t, "fuel", got.FuelSigma, fuel)
		})
	}
}

// The dip of a sloping tank does not see all of its liquid.
func TestSigmaInASlopingTankIsTheSpreadOfDisturbedReadings(t *testing.T) {
	s := newSimulator(t, -10)
	sloping := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Slope: 0.02, DipAt: 5500}))
	tank := Tank{Shape: sloping, SafeFill: 0.9 * Capacity(sloping), Suction: 400}
	for _, depth := range []units.Millimetres{2, 60, 1200, 2399} {
		r := Reading{Depth: &depth, Temperature: new(units.Celsius(5))}
		got, err := tank.Measure(r, corrector(t, 845), -10)
		if err != nil {
			t.Fatal(err)
		}
		usable, fuel := spreadsOf(draws/10, func() (float64, float64) {
			world := s.world()
			return s.gauge(&tank, &r, &world, s.table())
		})
		agree(t, "usable", got.Sigma, usable)
		agree(t, "fuel", got.FuelSigma, fuel)
	}
}

// Both gaugings of a change are made in one world, through one table.
func TestSigmaOfAChangeIsTheSpreadOfDisturbedReadings(t *testing.T) {
	mm := func(x float64) *units.Millimetres { return new(units.Millimetres(x)) }
	cold, cool := new(units.Celsius(-35)), new(units.Celsius(5))
	tests := []struct {
		name, tank       string
		opening, closing Reading
	}{
		{"a large delivery", "lying", Reading{Depth: mm(500), Temperature: cool}, Reading{Depth: mm(2200), Temperature: cold}},
		{"a day's burn", "lying", Reading{Depth: mm(1300), Water: mm(20), Temperature: cool}, Reading{Depth: mm(1285), Water: mm(20), Temperature: cool}},
		{"no temperature read", "lying", Reading{Gauge: AutomaticCustody, Depth: mm(1800)}, Reading{Gauge: AutomaticCustody, Depth: mm(400)}},
		{"one temperature read", "upright", Reading{Depth: mm(5000), Temperature: cold}, Reading{Depth: mm(4000)}},
		{"no temperature read, a great stock hardly moved", "upright", Reading{Depth: mm(5990)}, Reading{Depth: mm(5970)}},
		{"emptied", "box", Reading{Volume: new(units.Litres(9000)), Temperature: cool}, Reading{Depth: mm(3), Temperature: cool}},
		{"across the kinks", "table", Reading{Gauge: Stick, Depth: mm(462), Temperature: cold}, Reading{Gauge: Stick, Depth: mm(402), Temperature: cool}},
	}
	c, all := corrector(t, 845), simulatedTanks(t)
	for _, tt := range tests {
		t.Run(tt.tank+" "+tt.name, func(t *testing.T) {
			s, tank := newSimulator(t, -10), all[tt.tank]
			got, err := tank.Change(tt.opening, tt.closing, c, -10)
			if err != nil {
				t.Fatal(err)
			}
			moved, _ := spreadsOf(draws, func() (float64, float64) {
				world, table := s.world(), s.table()
				_, before := s.gauge(&tank, &tt.opening, &world, table)
				_, after := s.gauge(&tank, &tt.closing, &world, table)
				return after - before, 0
			})
			agree(t, "moved", got.Sigma, moved)
		})
	}
}

// Tanks of one plant share its density, its assumed temperature and its shells, not their tables.
func TestSigmaOfASumIsTheSpreadOfDisturbedReadings(t *testing.T) {
	c, all := corrector(t, 845), simulatedTanks(t)
	tanks := []Tank{all["lying"], all["upright"], all["box"]}
	before := []Reading{{Depth: new(units.Millimetres(1900))}, {Depth: new(units.Millimetres(5500))}, {Volume: new(units.Litres(15000))}}
	after := []Reading{{Depth: new(units.Millimetres(700))}, {Depth: new(units.Millimetres(5400))},
		{Volume: new(units.Litres(14000)), Temperature: new(units.Celsius(-30))}}
	var stocks, changes []Estimate
	for i := range tanks {
		stock, err1 := tanks[i].Stock(before[i], c, -10)
		change, err2 := tanks[i].Change(before[i], after[i], c, -10)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		stocks, changes = append(stocks, stock), append(changes, change)
	}
	s := newSimulator(t, -10)
	stock, moved := spreadsOf(draws, func() (stock, moved float64) {
		world := s.world()
		for i := range tanks {
			table := s.table()
			usable, opening := s.gauge(&tanks[i], &before[i], &world, table)
			_, closing := s.gauge(&tanks[i], &after[i], &world, table)
			stock, moved = stock+usable, moved+closing-opening
		}
		return stock, moved
	})
	agree(t, "stock", Sum(stocks...).Sigma, stock)
	agree(t, "moved", Sum(changes...).Sigma, moved)
}

// spreadsOf are the standard deviations of n draws of two values.
func spreadsOf(n int, draw func() (float64, float64)) (float64, float64) {
	var first, sum, squares [2]float64 // the first is taken off every draw, against cancellation
	first[0], first[1] = draw()
	for range n {
		var x [2]float64
		x[0], x[1] = draw()
		for i := range x {
			off := x[i] - first[i]
			sum[i] += off
			squares[i] += off * off
		}
	}
	deviation := func(i int) float64 {
		mean := sum[i] / float64(n)
		return math.Sqrt(max(0, squares[i]/float64(n)-mean*mean))
	}
	return deviation(0), deviation(1)
}
