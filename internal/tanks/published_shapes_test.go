package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// D = 40 in, shell 100 in, 2:1 heads: 616.5 gal, and 228.7 gal at 16 in; and the same tank's fill by percent of depth, as
// printed to a tenth (tankvolumecalc.com, formulas, ellipsoidal heads; read there).
func TestATwoToOneTankFillsAsAPrintedTableSays(t *testing.T) {
	s := shape(t)(LyingCylinder(Lying{Diameter: 40 * inch, Length: 100 * inch, Left: TwoToOneHead(), Right: TwoToOneHead()}))
	near(t, "capacity, gallons", inGallons(s, 40), 616.5, 0.05)
	near(t, "gallons at 16 in", inGallons(s, 16), 228.7, 0.05)
	percent := []float64{1.7, 4.9, 9, 13.8, 19.1, 24.8, 30.8, 37.1, 43.5, 50, 56.5, 62.9, 69.2, 75.2, 80.9, 86.2, 91, 95.1, 98.3}
	for i, want := range percent {
		depth := units.Millimetres(i+1) / 20 * s.Depth()
		near(t, "per cent of volume", float64(100*s.Volume(depth)/Capacity(s)), want, 0.05)
	}
}

// D = 37 in, shell 74 in, half spheres: 459.3 gal, and 169.1 gal at 14.8 in; and its fill by percent of depth (tankvolumecalc.com,
// formulas, capsule tank; read there).
func TestACapsuleFillsAsAPrintedTableSays(t *testing.T) {
	s := shape(t)(LyingCylinder(Lying{Diameter: 37 * inch, Length: 74 * inch, Left: HemisphericalHead(), Right: HemisphericalHead()}))
	near(t, "capacity, gallons", inGallons(s, 37), 459.3, 0.05)
	near(t, "gallons at 14.8 in", inGallons(s, 14.8), 169.1, 0.05)
	percent := []float64{1.6, 4.6, 8.6, 13.3, 18.6, 24.3, 30.4, 36.8, 43.4, 50, 56.6, 63.2, 69.6, 75.7, 81.4, 86.7, 91.4, 95.4, 98.4}
	for i, want := range percent {
		depth := units.Millimetres(i+1) / 20 * s.Depth()
		near(t, "per cent of volume", float64(100*s.Volume(depth)/Capacity(s)), want, 0.05)
	}
}

// R = 735, L = 2560, ellipsoids 175 deep at both ends, mm: 4740.75 L (arachnoid.com, TankCalc, user inquiries; read there).
func TestATankWithShallowEllipsoidsHoldsWhatIsPrinted(t *testing.T) {
	s := shape(t)(LyingCylinder(Lying{Diameter: 1470, Length: 2560, Left: EllipsoidalHead(175), Right: EllipsoidalHead(175)}))
	near(t, "litres", float64(Capacity(s)), 4740.75, 0.005)
}

// The volume of a torispherical head as vcalc.com prints it (Cylindrical Tank (THd) – Volume; formula read there):
// π/3·[2hR² − (2a² + c² + 2aR)(R − h) + 3a²c·arcsin((R − h)/(R − a))], crown R, knuckle a, depth h, c = √((R − a)² − (R − h)²).
func TestATorisphericalHeadHoldsWhatThePrintedFormulaSays(t *testing.T) {
	for _, ratio := range [][2]float64{{1, 0.06}, {1, 0.1}, {0.8, 0.154}, {0.9, 0.2}, {2, 0.03}, {0.55, 0.3}} {
		const diameter = 2400
		head := TorisphericalHead(ratio[0], ratio[1])
		deep, err := head.Depth(diameter)
		if err != nil {
			t.Fatal(err)
		}
		holds, err := head.Volume(diameter)
		if err != nil {
			t.Fatal(err)
		}
		R, a, h := diameter*ratio[0], diameter*ratio[1], float64(deep)
		c := math.Sqrt((R-a)*(R-a) - (R-h)*(R-h))
		want := math.Pi / 3 * (2*h*R*R - (2*a*a+c*c+2*a*R)*(R-h) + 3*a*a*c*math.Asin((R-h)/(R-a)))
		near(t, "litres", float64(holds), want/1e6, 1e-9)
	}
}

// Inside depth of DIN heads with a wall of thickness s, as makers print it for a diameter Da outside: Klöpper
// 0.1935·Da − 0.455·s, Korbbogen 0.255·Da − 0.635·s (from memory). Their radii are shares of Da; inside measures make of them
// other shares.
func TestDINHeadsAreAsDeepInsideAsMakersSay(t *testing.T) {
	for _, c := range []struct{ dish, knuckle, share, wall, tolerance float64 }{
		{1, 0.1, 0.1935, 0.455, 0.0005}, {0.8, 0.154, 0.255, 0.635, 0.001},
	} {
		for _, thick := range []float64{0, 5, 10, 20} {
			const outside = 2000.0
			inside := outside - 2*thick
			deep, err := TorisphericalHead(c.dish*outside/inside, c.knuckle*outside/inside).Depth(units.Millimetres(inside))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mm", float64(deep), c.share*outside-c.wall*thick, c.tolerance*outside)
		}
	}
}
