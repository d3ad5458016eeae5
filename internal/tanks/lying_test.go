package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

const inch = units.MillimetresPerInch

// inGallons gives volumes at depths in inches.
func inGallons(s Shape, inches float64) float64 {
	return float64(s.Volume(units.Millimetres(inches*inch))) / units.LitresPerUSGallon
}

// Cases of D. Jones, "Calculating Tank Volume", D = 108 in, L = 156 in, as kept with their digits in
// tests/test_geometry.py of the engineering library CalebBell/fluids, commit 091070e9; US gallons.
func TestLyingTanksWithHeadsAgreeWithWorkedCases(t *testing.T) {
	for _, c := range []struct {
		name string
		head Head
		want map[float64]float64
	}{
		{"ellipsoidal", EllipsoidalHead(42 * inch), map[float64]float64{0: 0, 36: 2380.956541557815, 84: 7103.445235921378, 54: 4203.695769930696, 108: 8407.391539861392}},
		{"torispherical", FlangedAndDishedHead(), map[float64]float64{0: 0, 1: 9.580013820942611, 36: 2028.626670842139, 84: 5939.897910157917, 54: 3534.9973314622794, 108: 7069.994662924554}},
		{"spherical", DishedHead(42 * inch), map[float64]float64{0: 0, 36: 2303.9615116986183, 84: 6935.163365275476, 54: 4094.025626387197, 108: 8188.051252774394}},
		{"a cap that is nearly flat", DishedHead(108 * .009999999 * inch), map[float64]float64{84: 5201.54341872961}},
		{"and one a little deeper", DishedHead(108 * .01000001 * inch), map[float64]float64{84: 5201.543461255985}},
		{"conical", ConicalHead(42 * inch), map[float64]float64{0: 0, 36: 2041.1923581273443, 84: 6180.540773905826, 54: 3648.490668241736, 108: 7296.981336483472}},
	} {
		s := shape(t)(LyingCylinder(Lying{Diameter: 108 * inch, Length: 156 * inch, Left: c.head, Right: c.head}))
		for depth, want := range c.want {
			near(t, c.name, inGallons(s, depth), want, 1e-6)
		}
	}
}

// The same tests, of D = 10, L = 25 without a unit: two unlike heads, one alone, and what they give at five depths. We
// take the unit as a decimetre, so that volumes are litres.
func TestUnlikeHeadsAddUp(t *testing.T) {
	for _, c := range []struct {
		name        string
		left, right Head
		want        [5]float64
	}{
		{"ellipsoidal twice", EllipsoidalHead(200), EllipsoidalHead(200), [5]float64{108.05249928250362, 416.5904542901302, 1086.4674593664702, 1756.34446444281, 2172.9349187329403}},
		{"ellipsoidal and flat", EllipsoidalHead(200), FlatHead(), [5]float64{105.12034613915314, 400.22799255268336, 1034.1075818066402, 1667.9871710605971, 2068.2151636132803}},
		{"spherical and conical", DishedHead(200), ConicalHead(200), [5]float64{104.20408244287965, 400.47607362329063, 1049.291946298991, 1698.107818974691, 2098.583892597982}},
		{"conical and spherical", ConicalHead(200), DishedHead(200), [5]float64{104.20408244287965, 400.47607362329063, 1049.291946298991, 1698.107818974691, 2098.583892597982}},
	} {
		s := shape(t)(LyingCylinder(Lying{Diameter: 1000, Length: 2500, Left: c.left, Right: c.right}))
		for i, depth := range []units.Millimetres{100, 250, 500, 750, 1000} {
			near(t, c.name, float64(s.Volume(depth)), c.want[i], 1e-8*c.want[4])
		}
	}
}

// Depth and volume of one head as shares of D and D³: computed with a separate implementation, which reproduces
// the worked cases above; handbooks print 0.0809, 0.1 and 0.1298 for the first three volumes (from memory).
func TestHeadsAreAsDeepAndHoldAsMuchAsHandbooksSay(t *testing.T) {
	for _, c := range []struct {
		head          Head
		depth, volume float64
	}{
		{FlangedAndDishedHead(), 0.169338, 0.080999},
		{DIN28011Head(), 0.193774, 0.098966},
		{DIN28013Head(), 0.254473, 0.130772},
		{TorisphericalHead(0.8, 0.06), 0.205021, 0.094536},
		{TorisphericalHead(0.8, 0.1), 0.225544, 0.109884},
		{TwoToOneHead(), 0.25, 0.130900},
		{HemisphericalHead(), 0.5, 0.261799},
	} {
		depth, err := c.head.Depth(1000)
		if err != nil {
			t.Fatal(err)
		}
		volume, err := c.head.Volume(1000)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "depth", float64(depth)/1000, c.depth, 5e-7)
		near(t, "volume", float64(volume)/1000, c.volume, 5e-7)
	}
	// D = 96 and 108 in: a_torispherical in tests/test_geometry.py of CalebBell/fluids.
	for _, c := range []struct{ diameter, dish, knuckle, want float64 }{{96, 0.9, 0.2, 25.684268924767125}, {108, 1, 0.06, 18.288462280484797}} {
		depth, err := TorisphericalHead(c.dish, c.knuckle).Depth(units.Millimetres(c.diameter))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "depth", float64(depth), c.want, 1e-11)
	}
}

func TestHeadsOfNoDepthAreFlat(t *testing.T) {
	flat := shape(t)(HorizontalCylinder(2400, 6000))
	for _, head := range []Head{FlatHead(), EllipsoidalHead(0), DishedHead(0), ConicalHead(0)} {
		s := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: head, Right: head}))
		for h := units.Millimetres(0); h <= 2400; h += 7 {
			if s.Volume(h) != flat.Volume(h) {
				t.Fatalf("%+v at %v mm: %v L, flat %v L", head, h, s.Volume(h), flat.Volume(h))
			}
		}
	}
}

func TestTwoHalfSpheresAreASphere(t *testing.T) {
	for _, head := range []Head{HemisphericalHead(), DishedHead(1000), EllipsoidalHead(1000), TorisphericalHead(0.5, 0.2), TorisphericalHead(2, 0.5)} {
		s := shape(t)(LyingCylinder(Lying{Diameter: 2000, Left: head, Right: head}))
		for _, h := range []float64{1e-3, 100, 1000, 1700, 2000} {
			near(t, "cap of a sphere", float64(s.Volume(units.Millimetres(h))), math.Pi*h*h*(1000-h/3)/1e6, 1e-9*h*h)
		}
	}
}

// drawHead draws a head that fits a tank of a diameter.
func drawHead(t *rapid.T, name string, diameter float64) Head {
	depth := units.Millimetres(rapid.Float64Range(0, diameter/2).Draw(t, name+" depth"))
	switch rapid.IntRange(0, 6).Draw(t, name) {
	case 0:
		return FlatHead()
	case 1:
		return EllipsoidalHead(depth)
	case 2:
		return TwoToOneHead()
	case 3:
		return HemisphericalHead()
	case 4:
		return DishedHead(depth)
	case 5:
		return ConicalHead(depth)
	}
	dish := rapid.Float64Range(0.5, 3).Draw(t, name+" dish")
	return TorisphericalHead(dish, rapid.Float64Range(0.001, 0.5).Draw(t, name+" knuckle"))
}

func drawLying(t *rapid.T, slope bool) Lying {
	diameter := rapid.Float64Range(100, 10_000).Draw(t, "diameter")
	l := Lying{
		Diameter: units.Millimetres(diameter), Length: units.Millimetres(rapid.Float64Range(100, 30_000).Draw(t, "length")),
		Left: drawHead(t, "left", diameter), Right: drawHead(t, "right", diameter),
	}
	if slope {
		l.Slope = rapid.Float64Range(-steepest, steepest).Draw(t, "slope")
		l.DipAt = l.Length * units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "dip"))
	}
	return l
}

func TestALevelTankRisesFromNothingToItsCapacityAndIsHalfFullAtHalf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := LyingCylinder(drawLying(t, false))
		if err != nil {
			t.Fatal(err)
		}
		full := Capacity(s)
		if s.Volume(0) != 0 || s.Volume(s.Depth()) != full || s.Volume(2*s.Depth()) != full {
			t.Fatalf("empty %v L, full %v L of %v L", s.Volume(0), s.Volume(s.Depth()), full)
		}
		if half := s.Volume(s.Depth() / 2); math.Abs(float64(half/full)-0.5) > 1e-9 {
			t.Fatalf("half full: %v L of %v L", half, full)
		}
		mustRise(t, s)
	})
}

// Where the reckoning changes its formula, at the seam of a torispherical head, at the middle, where series take over, the
// volume neither jumps nor falls back: every step of a fine ladder adds.
func TestAVolumeRisesAcrossEveryChangeOfFormula(t *testing.T) {
	for _, head := range headsToCheck {
		for _, slope := range []float64{0, 1e-7, -0.03} {
			s := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 3000, Left: head, Right: head, Slope: slope, DipAt: 1000}))
			last := s.Volume(200)
			for h := units.Millimetres(200.5); h < 2200; h += 0.5 {
				v := s.Volume(h)
				if !(v > last && v-last < 40) { // at most 0.5 mm · 2.4 m · 27 m
					t.Fatalf("%+v, slope %v: %v L at %v mm, %v L just below", head, slope, v, h, last)
				}
				last = v
			}
		}
	}
}

// mustRise checks that more depth is more volume.
func mustRise(t *rapid.T, s Shape) {
	low := rapid.Float64Range(0, float64(s.Depth())).Draw(t, "low")
	step := math.Pow(10, rapid.Float64Range(-2, 3).Draw(t, "step"))
	high := min(low+step, float64(s.Depth()))
	if high-low < 0.01 {
		return
	}
	if a, b := s.Volume(units.Millimetres(low)), s.Volume(units.Millimetres(high)); !(b > a) && b < Capacity(s) {
		t.Fatalf("%v L at %v mm, %v L at %v mm", a, low, b, high)
	}
}

func TestALyingTankThatCannotBeIsRefused(t *testing.T) {
	nan := units.Millimetres(math.NaN())
	good := func(change func(*Lying)) Lying {
		l := Lying{Diameter: 2400, Length: 6000, Left: FlangedAndDishedHead(), Right: TwoToOneHead(), Slope: 0.01, DipAt: 3000}
		change(&l)
		return l
	}
	for _, c := range []struct {
		change func(*Lying)
		says   string
	}{
		{func(l *Lying) { l.Diameter = 0 }, "diameter: 0 mm is no inside diameter"},
		{func(l *Lying) { l.Length = nan }, "length: NaN mm is no inside length"},
		{func(l *Lying) { l.Length, l.Left = 0, FlatHead() }, "length: 0 mm is no inside length"},
		{func(l *Lying) { l.Length, l.Left, l.Slope = 0, ConicalHead(0), 0 }, "length: 0 mm is no inside length of a tank with a flat head"},
		{func(l *Lying) { l.Left = EllipsoidalHead(-1) }, "left head depth: -1 mm: expected 0 to 12000 mm"},
		{func(l *Lying) { l.Right = DishedHead(1201) }, "right head depth: 1201 mm: expected 0 to 1200 mm"},
		{func(l *Lying) { l.Right = ConicalHead(nan) }, "right head depth: NaN mm"},
		{func(l *Lying) { l.Left = TorisphericalHead(0.4, 0.06) }, "left head: a dish radius of 0.4 and a knuckle radius of 0.06 of the diameter"},
		{func(l *Lying) { l.Left = TorisphericalHead(1, 0) }, "a knuckle radius of 0 of the diameter"},
		{func(l *Lying) { l.Left = TorisphericalHead(math.NaN(), 0.06) }, "a dish radius of NaN"},
		{func(l *Lying) { l.Slope = 2 }, "slope: 2: expected −0.2 to 0.2"},
		{func(l *Lying) { l.Slope = math.NaN() }, "slope: NaN"},
		{func(l *Lying) { l.DipAt = 6001 }, "dip position: 6001 mm from the left tangent line: expected 0 to 6000 mm"},
		{func(l *Lying) { l.Diameter, l.Length = 1e6, 1e6 }, "by its dimensions: expected at most 1000000000 L"},
	} {
		_, err := LyingCylinder(good(c.change))
		wantInvalid(t, err, c.says)
	}
}

func BenchmarkDipThroughATorisphericalTank(b *testing.B) {
	s := shape(b)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: FlangedAndDishedHead(), Right: FlangedAndDishedHead()}))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Volume(units.Millimetres(i % 2400))
	}
}
