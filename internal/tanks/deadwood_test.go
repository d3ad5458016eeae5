package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// By hand: the box holds 10 L per mm.
func TestDeadwoodIsSpreadEvenlyBetweenItsLevels(t *testing.T) {
	s := shape(t)(WithDeadwood(box(t).Shape, Deadwood{100, 300, -400}, Deadwood{500, 600, 50}, Deadwood{200, 400, -100}))
	for depth, want := range map[units.Millimetres]float64{
		0: 0, 100: 1000, 200: 2000 - 200, 300: 3000 - 400 - 50, 400: 4000 - 500, 550: 5500 - 500 + 25, 600: 6000 - 450, 2000: 19550, 9e9: 19550, -5: 0,
	} {
		near(t, "litres", float64(s.Volume(depth)), want, 1e-9)
	}
	near(t, "capacity", float64(Capacity(s)), 19550, 1e-9)
	near(t, "depth", float64(s.Depth()), 2000, 0)
	if v := s.Volume(units.Millimetres(math.NaN())); v != 0 {
		t.Errorf("%v L at no number", v)
	}
	none := shape(t)(WithDeadwood(box(t).Shape))
	near(t, "without pieces", float64(none.Volume(777)), 7770, 0)
}

func TestDeadwoodThatTakesAllIsRefusedWithTheLevel(t *testing.T) {
	lying := shape(t)(HorizontalCylinder(2400, 6000))
	level := shape(t)(CapacityTable([]Point{{0, 0}, {100, 50}, {200, 50}, {300, 90}}))
	nan := units.Litres(math.NaN())
	for _, tt := range []struct {
		bare   Shape
		pieces []Deadwood
		says   string
	}{
		{box(t).Shape, []Deadwood{{100, 110, -100}}, "level 100 mm: above it more is displaced"},
		{box(t).Shape, []Deadwood{{100, 200, -600}, {150, 160, -60}}, "level 150 mm"},
		{lying, []Deadwood{{0, 300, -100}}, "level 0 mm"},
		{lying, []Deadwood{{2100, 2400, -100}}, "level 2399."},
		{level, []Deadwood{{100, 200, -0.1}}, "level 100 mm"},
		{box(t).Shape, []Deadwood{{100, 100, -5}}, "piece 1: from 100 to 100 mm: expected two levels"},
		{box(t).Shape, []Deadwood{{1, 2, 5}, {100, 2001, -5}}, "piece 2: from 100 to 2001 mm"},
		{box(t).Shape, []Deadwood{{-1, 20, -5}}, "piece 1"},
		{box(t).Shape, []Deadwood{{1, 20, 0}}, "piece 1: 0 L: expected a volume other than 0"},
		{box(t).Shape, []Deadwood{{1, 20, nan}}, "piece 1: NaN L"},
		{box(t).Shape, []Deadwood{{1, units.Millimetres(nan), 1}}, "piece 1: from 1 to NaN mm"},
		{box(t).Shape, []Deadwood{{1, 20, 1e9}}, "would hold"},
		{box(t).Shape, make([]Deadwood, 1001), "pieces: there are 1001"},
		{shape(t)(VolumeOnly(5)), []Deadwood{{1, 2, 3}}, "shape: the tank has no depth"},
	} {
		_, err := WithDeadwood(tt.bare, tt.pieces...)
		wantInvalid(t, err, tt.says)
	}
}

func TestATankWithDeadwoodThatIsTakenGoesOnRising(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bare := anyShape(t)
		var pieces []Deadwood
		for range rapid.IntRange(1, 5).Draw(t, "pieces") {
			from := units.Millimetres(rapid.Float64Range(0.02, 0.8).Draw(t, "from")) * bare.Depth()
			to := from + units.Millimetres(rapid.Float64Range(0.01, 0.15).Draw(t, "height"))*bare.Depth()
			adds := units.Litres(rapid.Float64Range(-1.5, 0.5).Draw(t, "adds")) * (bare.Volume(to) - bare.Volume(from))
			if adds == 0 {
				continue
			}
			pieces = append(pieces, Deadwood{from, to, adds})
		}
		s, err := WithDeadwood(bare, pieces...)
		if err != nil {
			return // the other test looks at refusals
		}
		if _, table := bare.(table); table {
			return
		}
		a := units.Millimetres(rapid.Float64Range(0, 0.999).Draw(t, "a")) * s.Depth()
		b := a + units.Millimetres(rapid.Float64Range(1e-6, 1e-3).Draw(t, "b"))*s.Depth()
		if low, high := s.Volume(a), s.Volume(min(b, s.Depth())); !(low < high) {
			t.Fatalf("%v L at %v mm, %v L at %v mm", low, a, high, b)
		}
		volume := units.Litres(rapid.Float64Range(0, 1).Draw(t, "share")) * Capacity(s)
		depth, err := DepthOf(s, volume)
		if err != nil || math.Abs(float64(s.Volume(depth)-max(volume, s.Volume(0)))) > 1e-9*float64(Capacity(s)) {
			t.Fatalf("%v L: %v mm, %v", volume, depth, err)
		}
	})
}
