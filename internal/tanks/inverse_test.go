package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// drawShape draws any shape that has a depth.
func drawShape(t *rapid.T) Shape {
	diameter := rapid.Float64Range(100, 10_000).Draw(t, "size")
	size := units.Millimetres(diameter)
	var s Shape
	var err error
	switch rapid.IntRange(0, 4).Draw(t, "shape") {
	case 0:
		s, err = LyingCylinder(drawLying(t, false))
	case 1:
		s, err = LyingCylinder(drawLying(t, true))
	case 2:
		s, err = StandingCylinder(Standing{Diameter: size, Height: 2 * size, Bottom: drawHead(t, "bottom", diameter), BottomRises: rapid.Bool().Draw(t, "rises"), Roof: drawHead(t, "roof", diameter)})
	case 3:
		s, err = Rectangular(size, 2*size, 3*size)
	case 4:
		var rows []Point
		for depth, volume := 0.0, 0.0; len(rows) < 10; {
			rows = append(rows, Point{units.Millimetres(depth), units.Litres(volume)})
			depth += rapid.Float64Range(1, 100).Draw(t, "step")
			volume += rapid.Float64Range(1, 1000).Draw(t, "more")
		}
		s, err = CapacityTable(rows)
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestADepthGoesToAVolumeAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawShape(t)
		depth := s.Depth() * units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "depth"))
		volume := s.Volume(depth)
		back, err := DepthOf(s, volume)
		if err != nil {
			t.Fatal(err)
		}
		// Where a volume hardly grows with the depth, as in the tip of a cone, a double does not tell depths apart: then
		// the volume itself must come back.
		if math.Abs(float64(back-depth)) > 1e-3 && math.Abs(float64(s.Volume(back)-volume)) > 1e-12*float64(Capacity(s)) {
			t.Fatalf("%v mm, %v L, %v mm: off by %v mm", depth, volume, back, back-depth)
		}
	})
}

func TestADepthIsFoundAtTheEndsAndOnLevelStretches(t *testing.T) {
	table := shape(t)(CapacityTable([]Point{{0, 20}, {100, 120}, {200, 120}, {300, 220}}))
	lying := shape(t)(HorizontalCylinder(2400, 6000))
	for _, c := range []struct {
		s      Shape
		volume units.Litres
		want   units.Millimetres
	}{
		{table, 0, 0}, {table, 20, 0}, {table, 70, 50}, {table, 120, 100}, {table, 170, 250}, {table, 220, 300},
		{lying, 0, 0}, {lying, Capacity(lying), 2400}, {lying, Capacity(lying) / 2, 1200},
		{shape(t)(Rectangular(1000, 1000, 1000)), 250, 250},
	} {
		got, err := DepthOf(c.s, c.volume)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mm", float64(got), float64(c.want), 1e-6)
	}
}

func TestAVolumeThatATankCannotHoldHasNoDepth(t *testing.T) {
	lying := shape(t)(HorizontalCylinder(2400, 6000))
	for _, v := range []units.Litres{-1, Capacity(lying) * 1.001, units.Litres(math.NaN())} {
		_, err := DepthOf(lying, v)
		wantInvalid(t, err, "there is no depth")
	}
	_, err := DepthOf(shape(t)(VolumeOnly(400)), 100)
	wantInvalid(t, err, "only the capacity of this tank is known")
}

// plateau is level over a stretch, and cannot turn its volume round itself.
type plateau struct{}

func (plateau) Depth() units.Millimetres { return 1000 }

func (plateau) Volume(depth units.Millimetres) units.Litres {
	return units.Litres(min(depth, 300) + max(0, min(depth, 1000)-700))
}

func TestTheSearchFindsTheLowestDepthOfALevelStretch(t *testing.T) {
	for volume, want := range map[units.Litres]float64{0: 0, 150: 150, 300: 300, 301: 701, 600: 1000} {
		got, err := DepthOf(plateau{}, volume)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mm", float64(got), want, 2e-9)
	}
}

// step holds nothing up to a depth, and all above it.
type step struct{ at units.Millimetres }

func (step) Depth() units.Millimetres { return 1000 }

func (s step) Volume(depth units.Millimetres) units.Litres {
	if depth >= s.at {
		return 500
	}
	return 0
}

// FuzzDepthOf holds any lying tank that can be, and a step, which no interpolation helps with: the search ends, within the
// tank, at a depth that holds the volume while a little less does not.
func FuzzDepthOf(f *testing.F) {
	f.Add(2400.0, 6000.0, 300.0, 0.01, 1000.0, 0.4)
	f.Add(1e6, 1e-3, 0.0, -0.2, 0.0, 1.0)
	f.Add(1e-9, 1e-9, 1e-12, 0.0, 0.0, 1e-12)
	f.Fuzz(func(t *testing.T, diameter, length, deep, slope, dip, share float64) {
		share = math.Abs(math.Mod(share, 1))
		shapes := []Shape{step{units.Millimetres(1000 * share)}}
		for _, head := range []Head{DishedHead(units.Millimetres(deep)), ConicalHead(units.Millimetres(deep)), TorisphericalHead(deep, share), EllipsoidalHead(units.Millimetres(deep))} {
			s, err := LyingCylinder(Lying{Diameter: units.Millimetres(diameter), Length: units.Millimetres(length), Left: head, Slope: slope, DipAt: units.Millimetres(dip)})
			if err == nil {
				shapes = append(shapes, s)
			}
		}
		for _, s := range shapes {
			volume := Capacity(s) * units.Litres(share)
			depth, err := DepthOf(s, volume)
			if err != nil || !(depth >= 0 && depth <= s.Depth()) {
				t.Fatalf("%+v: %v mm, %v", s, depth, err)
			}
			rounding := 1e-12 * Capacity(s)
			if depth < s.Depth() && s.Volume(depth) < volume-rounding {
				t.Fatalf("%+v: %v mm hold %v L, less than %v L", s, depth, s.Volume(depth), volume)
			}
			if less := depth - 2e-12*s.Depth(); less > 0 && s.Volume(less) > volume+rounding {
				t.Fatalf("%+v: %v mm hold %v L, more than %v L already", s, less, s.Volume(less), volume)
			}
		}
	})
}

func BenchmarkDepthOfATorisphericalTank(b *testing.B) {
	s := shape(b)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: FlangedAndDishedHead(), Right: FlangedAndDishedHead()}))
	full := Capacity(s)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := DepthOf(s, full*units.Litres(i%100)/100); err != nil {
			b.Fatal(err)
		}
	}
}
