package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// Cases of D. Jones, "Calculating Tank Volume", as kept with their digits in tests/test_geometry.py of the
// engineering library CalebBell/fluids (US gallons, depths in inches): bottoms that hang down, D = 132 in, 33 in deep, and
// bottoms that rise, D = 113 in, 33 in high.
func TestStandingTanksWithBottomsAgreeWithWorkedCases(t *testing.T) {
	for _, c := range []struct {
		name     string
		diameter units.Millimetres
		bottom   Head
		rises    bool
		want     map[float64]float64
	}{
		{"cone", 132, ConicalHead(33 * inch), false, map[float64]float64{0: 0, 24: 250.67461381371024, 60: 2251.175535772343, 132: 6516.560761446257}},
		{"ellipsoid", 132, EllipsoidalHead(33 * inch), false, map[float64]float64{0: 0, 24: 783.3581681678445, 60: 2902.831611916969, 132: 7168.216837590883}},
		{"dome", 132, DishedHead(33 * inch), false, map[float64]float64{0: 0, 24: 583.6018352850442, 60: 2658.4605833627343, 132: 6923.845809036648}},
		{"torispherical", 132, FlangedAndDishedHead(), false, map[float64]float64{0: 0, 1: 1.7906624793188568, 22: 785.587561468186, 24: 904.0688283793511, 60: 3036.7614412163075, 132: 7302.146666890221}},
		{"rising cone", 113, ConicalHead(33 * inch), true, map[float64]float64{0: 0, 15: 251.15825565795188, 25: 614.6068425492208, 50: 1693.1654406426783, 113: 4428.278844757774}},
		{"rising ellipsoid", 113, EllipsoidalHead(33 * inch), true, map[float64]float64{0: 0, 15: 44.84968851034856, 25: 207.6374468071692, 50: 1215.605957384487, 113: 3950.7193614995826}},
		{"rising dome", 113, DishedHead(33 * inch), true, map[float64]float64{0: 0, 15: 112.81405437348528, 25: 341.7056403375114, 50: 1372.9286894955042, 113: 4108.042093610599}},
		{"rising torisphere", 113, TorisphericalHead(0.71, 0.081), true, map[float64]float64{0: 0, 15: 103.88569287163769, 25: 388.72142877582087, 50: 1468.762358198084, 113: 4203.87576231318}},
	} {
		s := shape(t)(StandingCylinder(Standing{Diameter: c.diameter * inch, Height: 150 * inch, Bottom: c.bottom, BottomRises: c.rises}))
		for depth, want := range c.want {
			near(t, c.name, inGallons(s, depth), want, 1e-6)
		}
	}
}

// The same tests, bottoms and roofs at once; lengths without a unit, taken as decimetres.
func TestStandingTanksFillIntoTheirRoofs(t *testing.T) {
	for _, c := range []struct {
		name  string
		tank  Standing
		depth []units.Millimetres
		want  []float64
	}{
		{"cones", Standing{Diameter: 150, Height: 500, Bottom: ConicalHead(200), Roof: ConicalHead(100)}, []units.Millimetres{0, 100, 200, 500, 700, 720, 800},
			[]float64{0, 0.14726215563702155, 1.1780972450961726, 6.4795348480289485, 10.013826583317465, 10.301282311120932, 10.602875205865551}},
		{"domes", Standing{Diameter: 800, Height: 1000, Bottom: DishedHead(300), Roof: DishedHead(400)}, []units.Millimetres{0, 150, 300, 850, 1300, 1500, 1620, 1700},
			[]float64{0, 25.91813939211579, 89.5353906273091, 365.99554414321085, 592.190215201676, 684.3435997069765, 718.7251897078633, 726.2315017548405}},
		{"ellipsoids", Standing{Diameter: 800, Height: 1000, Bottom: EllipsoidalHead(300), Roof: EllipsoidalHead(400)}, []units.Millimetres{0, 150, 300, 850, 1300, 1500, 1620, 1700},
			[]float64{0, 31.41592653589793, 100.53096491487338, 376.99111843077515, 603.1857894892403, 695.3391739945409, 729.7207639954277, 737.2270760424049}},
	} {
		s := shape(t)(StandingCylinder(c.tank))
		for i, depth := range c.depth {
			near(t, c.name, float64(s.Volume(depth)), c.want[i], 1e-9*c.want[len(c.want)-1])
		}
	}
}

// A tank of 144 in with 180 in of shell on a bottom that slants by 12 in, which holds as much as 6 in more of
// shell, and a dome of radius 90 in, 36 in high: 6 in above the shell it holds 13,509 gal (hpmuseum.org forum, thread
// 11553, worked there by hand; 13,318 gal three inches lower).
func TestADomedRoofAgreesWithAWorkedCase(t *testing.T) {
	s := shape(t)(StandingCylinder(Standing{Diameter: 144 * inch, Height: 186 * inch, Roof: DishedHead(36 * inch)}))
	near(t, "gallons", inGallons(s, 192), 13509, 0.5)
	near(t, "gallons", inGallons(s, 189), 13318, 0.5)
}

func TestAStandingTankRisesFromNothingToItsCapacity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		diameter := rapid.Float64Range(100, 20_000).Draw(t, "diameter")
		tank := Standing{
			Diameter: units.Millimetres(diameter), Height: units.Millimetres(diameter * rapid.Float64Range(0.6, 3).Draw(t, "height")),
			Bottom: drawHead(t, "bottom", diameter), BottomRises: rapid.Bool().Draw(t, "rises"), Roof: drawHead(t, "roof", diameter),
		}
		s, err := StandingCylinder(tank)
		if err != nil {
			t.Fatal(err)
		}
		if s.Volume(0) != 0 || s.Volume(s.Depth()) != Capacity(s) {
			t.Fatalf("empty %v L, full %v L of %v L", s.Volume(0), s.Volume(s.Depth()), Capacity(s))
		}
		mustRise(t, s)
	})
}

func TestAFlatBottomIsAPlainCylinder(t *testing.T) {
	plain, s := shape(t)(VerticalCylinder(3000, 5000)), shape(t)(StandingCylinder(Standing{Diameter: 3000, Height: 5000}))
	for h := units.Millimetres(0); h <= 5000; h += 11 {
		near(t, "litres", float64(s.Volume(h)), float64(plain.Volume(h)), 1e-9)
	}
}

func TestAStandingTankThatCannotBeIsRefused(t *testing.T) {
	for says, tank := range map[string]Standing{
		"height: 0 mm is no inside height":             {Diameter: 3000},
		"bottom depth: 1501 mm: expected 0 to 1500 mm": {Diameter: 3000, Height: 5000, Bottom: DishedHead(1501)},
		"roof depth: NaN mm":                           {Diameter: 3000, Height: 5000, Roof: ConicalHead(units.Millimetres(math.NaN()))},
		"bottom depth: it rises 1500 mm: expected less than the height of the shell, 1400 mm": {Diameter: 3000, Height: 1400, Bottom: HemisphericalHead(), BottomRises: true},
	} {
		_, err := StandingCylinder(tank)
		wantInvalid(t, err, says)
	}
}
