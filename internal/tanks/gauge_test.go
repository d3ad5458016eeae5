package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// By hand: limits over √3. 40 CFR 280.43(a) for the stick; API MPMS 3.1B for the factory and installation limits of an
// automatic gauge, 1 and 3 mm (api.freestandarddownloadwebsite.com/?p=1203); all else common practice or from memory.
func TestAGaugeIsAsPreciseAsItsLimitOverRootThree(t *testing.T) {
	for g, want := range map[Gauge]float64{
		"": 3, Stick: 3.175 / math.Sqrt(3), Tape: 3 / math.Sqrt(3), FloatEighths: 2400. / 16 / math.Sqrt(3),
		SightGlass: 10 / math.Sqrt(3), AutomaticInventory: 25 / math.Sqrt(3), AutomaticCustody: (1 + 3) / math.Sqrt(3), DrumCount: 3,
	} {
		near(t, string(g), float64(g.DepthPrecision(2400)), want, 1e-12)
	}
}

func TestTheGaugesPrecisionStandsInWhereNoneIsStated(t *testing.T) {
	c := corrector(t, 845)
	sigma := func(r Reading) float64 {
		r.Temperature = new(units.Celsius(15))
		return float64(measure(t, box(t), r, c).Sigma)
	}
	deep := Reading{Depth: new(units.Millimetres(1000))}
	stated := deep
	stated.DepthPrecision = units.Millimetres(25 / math.Sqrt(3))
	auto := deep
	auto.Gauge = AutomaticInventory
	near(t, "automatic gauge", sigma(auto), sigma(stated), 1e-9)
	float := deep
	float.Gauge = FloatEighths
	if !(sigma(float) > sigma(auto) && sigma(auto) > sigma(deep)) {
		t.Errorf("float %v, automatic %v, not said %v", sigma(float), sigma(auto), sigma(deep))
	}
	auto.DepthPrecision = 3
	near(t, "a stated one goes before it", sigma(auto), sigma(deep), 1e-9)
}

// A stick read through a chart gives a volume; it is as precise as the depth that it felt. The box holds 10 L per mm.
func TestAVolumeReadThroughAChartIsAsPreciseAsTheStick(t *testing.T) {
	near(t, "box", float64(Stick.VolumePrecision(box(t).Shape, 10000)), 10*3.175/math.Sqrt(3), 1e-6)
	s := lying(t).Shape
	at := func(depth units.Millimetres) float64 { return float64(Stick.VolumePrecision(s, s.Volume(depth))) }
	near(t, "half full, 14.4 L per mm", at(1200), 14.4*3.175/math.Sqrt(3), 0.1)
	near(t, "at 10 %, 8.6 L per mm", at(240), 8.64*3.175/math.Sqrt(3), 0.1)
	capacityOnly := shape(t)(VolumeOnly(20000))
	near(t, "capacity only", float64(Stick.VolumePrecision(capacityOnly, 100)), 200, 1e-9)
	near(t, "float in eighths", float64(FloatEighths.VolumePrecision(capacityOnly, 100)), 20000./16/math.Sqrt(3), 1e-9)
	near(t, "drums", float64(DrumCount.VolumePrecision(capacityOnly, 100)), 13.75*units.LitresPerUSGallon/math.Sqrt(3), 1e-9)
	drums, err := NewDrums(200, 40)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drums of 200 L", float64(DrumCount.VolumePrecision(drums, 100)), 50/math.Sqrt(3), 1e-9)
	near(t, "not said", float64(Gauge("").VolumePrecision(capacityOnly, 100)), 200, 1e-9)
}

func TestAStickOnALevelStretchOfATableStillHasAPrecision(t *testing.T) {
	s := shape(t)(CapacityTable([]Point{{0, 0}, {500, 1000}, {900, 1000}, {1500, 2500}}))
	near(t, "where the table does not rise", float64(Stick.VolumePrecision(s, 1000)), 3.175/math.Sqrt(3), 1e-6)
	tank := Tank{Shape: s, SafeFill: 2000}
	if _, err := tank.Measure(Reading{Gauge: Stick, Volume: new(units.Litres(1000))}, corrector(t, 840), 0); err != nil {
		t.Error(err)
	}
}

func TestAnUnknownGaugeIsRefused(t *testing.T) {
	_, err := box(t).Measure(Reading{Depth: new(units.Millimetres(100)), Gauge: "eye"}, corrector(t, 840), 0)
	wantInvalid(t, err, `gauge: "eye" is no gauge: expected stick, tape, float-eighths, sight-glass`)
}

func TestEveryGaugeSaysWhereItsPrecisionComesFrom(t *testing.T) {
	for _, g := range append(gauges, "") {
		if g.Source() == "" || !g.Known() {
			t.Errorf("%q: %q", g, g.Source())
		}
	}
}

func TestAPrecisionIsNeverNothingNorMoreThanTheTank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom(append(gauges, "")).Draw(t, "gauge")
		s := anyShape(t)
		share := units.Litres(rapid.Float64Range(0, 1).Draw(t, "share"))
		if p := g.DepthPrecision(s.Depth()); !(p > 0 && p <= s.Depth()) {
			t.Fatalf("%v mm of %v", p, s.Depth())
		}
		if p := g.VolumePrecision(s, share*Capacity(s)); !(p > 0 && p <= Capacity(s)) {
			t.Fatalf("%v L of %v", p, Capacity(s))
		}
	})
}
