package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// D = 2.4 m, L = 6 m, flat heads, 1°: computed with a separate implementation, m³. The surface stands at the depth at
// the dip, at the low end, in the middle and at the high end.
func TestASlopingTankHoldsAnotherVolumeAtTheSameDip(t *testing.T) {
	for depth, want := range map[units.Millimetres][3]float64{
		300: {1.4862, 1.9645, 2.4804}, 1200: {12.8181, 13.5717, 14.3253}, 2100: {24.6629, 25.1788, 25.6571},
	} {
		for i, dip := range []units.Millimetres{0, 3000, 6000} {
			s := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Slope: math.Tan(math.Pi / 180), DipAt: dip}))
			near(t, "m³", float64(s.Volume(depth))/1000, want[i], 5.1e-5)
			mirrored := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Slope: -math.Tan(math.Pi / 180), DipAt: 6000 - dip}))
			near(t, "the other end lower, m³", float64(mirrored.Volume(depth)-s.Volume(depth)), 0, 1e-9)
		}
	}
}

// A wedge of liquid in the low corner of a box-like shell: while the surface meets neither the top nor the far
// end, the shell's volume is the integral of segments, whose antiderivative is in closed form:
// ∫A dh = R³·(sin θ − sin³θ/3 − θ·cos θ) with cos θ = 1 − h/R.
func TestTheShellOfASlopingTankAgreesWithTheClosedForm(t *testing.T) {
	const radius, slope = 1200.0, 0.05
	antiderivative := func(h float64) float64 {
		switch {
		case h <= 0:
			return 0
		case h >= 2*radius:
			return math.Pi * radius * radius * (h - radius)
		}
		sin, cos := math.Sincos(math.Acos(1 - h/radius))
		return radius * radius * radius * (sin - sin*sin*sin/3 - math.Acos(1-h/radius)*cos)
	}
	s := shape(t)(LyingCylinder(Lying{Diameter: 2 * radius, Length: 6000, Slope: slope}))
	for _, h := range []float64{0.5, 10, 200, 299, 301, 1000, 1200, 2000, 2399, 2400} {
		want := (antiderivative(h) - antiderivative(h-6000*slope)) / slope / 1e6
		near(t, "litres", float64(s.Volume(units.Millimetres(h))), want, 1e-9*want+1e-7)
	}
}

func TestASlopingTankIsDippedOnlyWhereItsDipStands(t *testing.T) {
	// Dipped at the high end, liquid is left when the dip is dry; at the low end, there is room when it is full.
	high := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: TwoToOneHead(), Right: TwoToOneHead(), Slope: 0.02, DipAt: 6000}))
	low := shape(t)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: TwoToOneHead(), Right: TwoToOneHead(), Slope: 0.02, DipAt: 0}))
	if high.Volume(0) <= 0 || low.Volume(2400) >= Capacity(low) {
		t.Errorf("dry at the high end: %v L; full at the low end: %v L of %v L", high.Volume(0), low.Volume(2400), Capacity(low))
	}
	// The two ends see the same from either side: what is missing at one is left at the other.
	near(t, "litres", float64(Capacity(low)-low.Volume(2400)), float64(high.Volume(0)), 1e-6)
	if d, err := DepthOf(high, high.Volume(0)/2); err != nil || d != 0 {
		t.Errorf("less than the dip sees: %v mm, %v", d, err)
	}
	if d, err := DepthOf(low, Capacity(low)); err != nil || d != 2400 {
		t.Errorf("more than the dip sees: %v mm, %v", d, err)
	}
}

func TestASlopeOfNothingIsLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLying(t, false)
		level, err := LyingCylinder(l)
		if err != nil {
			t.Fatal(err)
		}
		l.Slope, l.DipAt = rapid.SampledFrom([]float64{1e-200, -1e-12, 1.1e-9, -3e-9}).Draw(t, "slope"), l.Length/2
		tilted, err := LyingCylinder(l)
		if err != nil {
			t.Fatal(err)
		}
		h := level.Depth() * units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "depth"))
		if a, b := level.Volume(h), tilted.Volume(h); math.Abs(float64(a-b)) > 1e-6*float64(Capacity(level)) {
			t.Fatalf("level %v L, as good as level %v L", a, b)
		}
	})
}

func TestASlopingTankKeepsWithinItsBoundsAndRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := LyingCylinder(drawLying(t, true))
		if err != nil {
			t.Fatal(err)
		}
		full := Capacity(s)
		for _, h := range []units.Millimetres{0, s.Depth() / 3, s.Depth()} {
			if v := s.Volume(h); !(v >= 0 && v <= full*(1+1e-12)) {
				t.Fatalf("%v L of %v L at %v mm", v, full, h)
			}
		}
		mustRise(t, s)
	})
}

// What a sloping tank with heads lacks to full, seen from below, is what it holds seen from above: the tank turned
// about its axis by half a turn and its slope with it.
func TestWhatASlopingTankLacksIsWhatItHoldsUpsideDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLying(t, true)
		s, err := LyingCylinder(l)
		if err != nil {
			t.Fatal(err)
		}
		l.Slope = -l.Slope
		over, err := LyingCylinder(l)
		if err != nil {
			t.Fatal(err)
		}
		h := s.Depth() * units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "depth"))
		if sum := s.Volume(h) + over.Volume(s.Depth()-h); math.Abs(float64(sum/Capacity(s))-1) > 1e-8 {
			t.Fatalf("%v L and %v L of %v L", s.Volume(h), over.Volume(s.Depth()-h), Capacity(s))
		}
	})
}

// A plane cuts a sphere in a cap, however it slopes: π·d²·(R − d/3) with d = R + (h − R)·cos of its angle. Two half ellipsoids
// are a sphere drawn out along the axis by a/R, under a plane whose slope is drawn out too.
func TestASlopingSphereAndASlopingSpheroidAreExact(t *testing.T) {
	const radius = 1000.0
	for _, c := range []struct {
		head Head
		tip  float64
	}{
		{HemisphericalHead(), radius}, {DishedHead(radius), radius}, {TorisphericalHead(0.5, 0.2), radius},
		{TwoToOneHead(), radius / 2}, {EllipsoidalHead(3000), 3000}, {EllipsoidalHead(20), 20},
	} {
		for _, slope := range []float64{-0.2, 1e-9, 0.003, 0.2} {
			s := shape(t)(LyingCylinder(Lying{Diameter: 2 * radius, Left: c.head, Right: c.head, Slope: slope}))
			for _, h := range []float64{0, 0.001, 1, 30, 500, 999.9999, 1000, 1000.3, 1400, 1990, 2000} {
				d := radius + (h-radius)/math.Hypot(1, slope*c.tip/radius)
				want := math.Pi * d * d * (radius - d/3) * c.tip / radius / 1e6
				near(t, "litres", float64(s.Volume(units.Millimetres(h))), want, 1e-9*float64(Capacity(s)))
			}
		}
	}
}

func BenchmarkDipThroughASlopingTorisphericalTank(b *testing.B) {
	s := shape(b)(LyingCylinder(Lying{Diameter: 2400, Length: 6000, Left: FlangedAndDishedHead(), Right: FlangedAndDishedHead(), Slope: 0.02, DipAt: 1000}))
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.Volume(units.Millimetres(i % 2400))
	}
}
