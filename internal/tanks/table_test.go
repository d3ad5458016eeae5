package tanks

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// Interpolation between two printed rows of a sounding table, m and m³.
func TestPrintedInterpolationsComeOutToTheLastDigit(t *testing.T) {
	for _, tt := range []struct {
		source                                       string
		low, lowVolume, high, highVolume, depth, got float64
		digit                                        float64
	}{
		{"bunker calculation, sevensurveyor.com 2010/03/27: 157.20 + 0.07/0.10·6.40", 3.20, 157.20, 3.30, 163.60, 3.27, 161.68, 0.005},
		{"fuel oil sounding, examination problem with its solution, math.bot/q/linear-interpolation-sounding-volume-4.13-m",
			4.10, 120.91, 4.15, 124.27, 4.13, 122.93, 0.005},
		{"reading between two lines of a dipstick, 800 + 3/4 of 200 L, dipsticksengineering.co.uk/how_to_use_a_dipstick.html: levels in quarters",
			1, 0.8, 2, 1.0, 1.75, 0.95, 1e-12},
	} {
		s := shape(t)(CapacityTable([]Point{
			{units.Millimetres(tt.low * 1000), units.Litres(tt.lowVolume * 1000)},
			{units.Millimetres(tt.high * 1000), units.Litres(tt.highVolume * 1000)},
		}))
		near(t, tt.source, float64(s.Volume(units.Millimetres(tt.depth*1000)))/1000, tt.got, tt.digit)
	}
}

// Marks of a dipstick for 1000 to 4000 gal in a lying tank of 6 ft by 30 ft, and its capacity: Professional Surveyor
// Magazine, February 2008, Problem Corner 154, solution by D. Martinez as reprinted in its March supplement
// (archives.profsurv.com/problemcornerdiscussions/154.aspx); 7.48052 gal to the cubic foot. The quarter of a tank of 20 in at
// 5.96027 in: 0.596027·R, MathWorld "Circular Segment" as quoted at community.cartalk.com/t/57212.
func TestPrintedDipstickMarksAreFoundThroughAStrappedTable(t *testing.T) {
	const foot = units.MillimetresPerFoot
	lying := shape(t)(HorizontalCylinder(6*foot, 30*foot))
	gallon := units.Litres(foot * foot * foot / 1e6 / 7.48052)
	near(t, "capacity", float64(Capacity(lying)/gallon), 6345.202, 0.0005)
	strapped := shape(t)(CapacityTableRising(strap(lying, foot/24), RiseLying))
	for gallons, mark := range map[units.Litres]float64{1000: 1.29, 2000: 2.12, 3000: 2.87, 4000: 3.62} {
		for name, s := range map[string]Shape{"dimensions": lying, "table": strapped} {
			depth, err := DepthOf(s, gallons*gallon)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name, float64(depth/foot), mark, 0.005)
		}
	}
	truck := shape(t)(HorizontalCylinder(20*units.MillimetresPerInch, 1000))
	quarter, err := DepthOf(truck, Capacity(truck)/4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "quarter", float64(quarter/units.MillimetresPerInch), 5.96027, 0.5e-5)
}

// strap is the capacity table of a shape, a row each step.
func strap(s Shape, step units.Millimetres) []Point {
	var rows []Point
	for i := 0; ; i++ {
		depth := min(units.Millimetres(i)*step, s.Depth())
		rows = append(rows, Point{depth, s.Volume(depth)})
		if depth == s.Depth() {
			return rows
		}
	}
}

func TestAStrappedTableIsTheTankAtItsRowsAndNearItBetweenThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		diameter := units.Millimetres(rapid.Float64Range(800, 5000).Draw(t, "diameter"))
		length := units.Millimetres(rapid.Float64Range(500, 20000).Draw(t, "length"))
		s, err := LyingCylinder(Lying{Diameter: diameter, Length: length, Left: anyHead(t, diameter), Right: anyHead(t, diameter)})
		if err != nil {
			t.Fatal(err)
		}
		rows := strap(s, 10)
		even, err1 := CapacityTable(rows)
		rising, err2 := CapacityTableRising(rows, RiseLying)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for _, p := range rows {
			if even.Volume(p.Depth) != p.Volume || rising.Volume(p.Depth) != p.Volume {
				t.Fatalf("at the row %v mm the table has %v L, the tank %v L", p.Depth, even.Volume(p.Depth), p.Volume)
			}
		}
		bound := 0.26 * math.Pow(10/float64(diameter), 1.5) * float64(Capacity(s))
		for range 50 {
			depth := units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "share")) * diameter
			if off := math.Abs(float64(even.Volume(depth) - s.Volume(depth))); off > bound {
				t.Fatalf("%v L off at %v mm, more than %v L", off, depth, bound)
			}
		}
		// Below the first row the law leaves less than a tenth of what a straight line is off by; heads bend it a little.
		for _, share := range []units.Millimetres{0.1, 0.3, 0.5, 0.8} {
			depth := share * rows[1].Depth
			law, line := rising.Volume(depth)-s.Volume(depth), even.Volume(depth)-s.Volume(depth)
			if math.Abs(float64(law)) > 0.25*math.Abs(float64(line))+1e-9 {
				t.Fatalf("at %v mm the law is %v L off, the line %v L", depth, law, line)
			}
		}
	})
}

// What a table of 10 mm steps of other tanks may be off between its rows, as the document on tank descriptions states it: a leaning one is
// bounded by 0.36·(s/D)^1.5 of its capacity, an upright one by s/(4·H).
func TestATableOfALeaningOrUprightTankIsNearItBetweenTheRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		diameter := units.Millimetres(rapid.Float64Range(800, 5000).Draw(t, "diameter"))
		length := units.Millimetres(rapid.Float64Range(500, 9000).Draw(t, "length"))
		var s Shape
		var err error
		bound := 0.36 * math.Pow(10/float64(diameter), 1.5)
		if rapid.Bool().Draw(t, "leaning") {
			s, err = LyingCylinder(Lying{Diameter: diameter, Length: length, Left: anyHead(t, diameter), Right: anyHead(t, diameter),
				Slope: rapid.Float64Range(-0.2, 0.2).Draw(t, "slope"), DipAt: length * units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "dip"))})
		} else {
			rises := rapid.Bool().Draw(t, "rises")
			standing := Standing{Diameter: diameter, Height: diameter + length, Bottom: anyHead(t, diameter), BottomRises: rises, Roof: anyHead(t, diameter)}
			s, err = StandingCylinder(standing)
			if err == nil {
				bound = 10 / (4 * float64(s.Depth()))
			}
		}
		if err != nil {
			t.Fatal(err)
		}
		strapped, err := CapacityTable(strap(s, 10))
		if err != nil {
			t.Fatal(err)
		}
		for range 30 {
			depth := units.Millimetres(rapid.Float64Range(0, 1).Draw(t, "share")) * s.Depth()
			if off := math.Abs(float64((strapped.Volume(depth) - s.Volume(depth)) / Capacity(s))); off > bound {
				t.Fatalf("%v of the capacity off at %v mm, more than %v", off, depth, bound)
			}
		}
	})
}

func anyHead(t *rapid.T, diameter units.Millimetres) Head {
	depth := units.Millimetres(rapid.Float64Range(0, 0.5).Draw(t, "head depth")) * diameter
	return rapid.SampledFrom([]Head{FlatHead(), TwoToOneHead(), EllipsoidalHead(depth), DishedHead(depth), ConicalHead(depth),
		FlangedAndDishedHead(), DIN28011Head(), DIN28013Head(), HemisphericalHead()}).Draw(t, "head")
}

// V = V₁·(h/h₁)^p below the first row, by hand.
func TestTheFirstStepFollowsTheLawOfTheBottom(t *testing.T) {
	rows := []Point{{100, 80}, {200, 400}}
	for rise, want := range map[Rise]float64{RiseEven: 20, RiseLying: 10, RiseDished: 5, RiseCone: 1.25} {
		s := shape(t)(CapacityTableRising(rows, rise))
		near(t, "a quarter of the first step", float64(s.Volume(25)), want, 1e-12)
		near(t, "the first row", float64(s.Volume(100)), 80, 0)
		near(t, "between rows", float64(s.Volume(150)), 240, 1e-12)
		near(t, "below the bottom", float64(s.Volume(-1)), 0, 0)
		near(t, "no number", float64(s.Volume(units.Millimetres(math.NaN()))), 0, 0)
		depth, err := DepthOf(s, units.Litres(want))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "and back", float64(depth), 25, 1e-12)
	}
	for _, rise := range []Rise{0, 0.99, 3.01, Rise(math.NaN()), Rise(math.Inf(1))} {
		_, err := CapacityTableRising(rows, rise)
		wantInvalid(t, err, "first step: the power")
	}
	_, err := CapacityTableRising([]Point{{0, 5}, {100, 80}}, RiseLying)
	wantInvalid(t, err, "first step: the table holds 5 L at depth 0")
}

func TestADepthIsFoundInATableExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := []Point{{0, 0}}
		for range rapid.IntRange(1, 20).Draw(t, "rows") {
			last := rows[len(rows)-1]
			rows = append(rows, Point{last.Depth + units.Millimetres(rapid.Float64Range(0.01, 500).Draw(t, "step")),
				last.Volume + units.Litres(rapid.SampledFrom([]float64{0, 0.01, 3, 5000}).Draw(t, "litres"))})
		}
		rows = append(rows, Point{rows[len(rows)-1].Depth + 10, rows[len(rows)-1].Volume + 10})
		s, err := CapacityTableRising(rows, rapid.SampledFrom([]Rise{1, 1.5, 2, 3}).Draw(t, "rise"))
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range rows {
			depth, err := DepthOf(s, p.Volume)
			level := rows[i].Depth
			for j := i; j >= 0 && rows[j].Volume == p.Volume; j-- {
				level = rows[j].Depth
			}
			if err != nil || depth != level {
				t.Fatalf("row %d, %v L: %v mm, want the lowest %v mm: %v", i+1, p.Volume, depth, level, err)
			}
		}
		volume := units.Litres(rapid.Float64Range(0, 1).Draw(t, "share")) * Capacity(s)
		depth, err := DepthOf(s, volume)
		if err != nil || math.Abs(float64(s.Volume(depth)-volume)) > 1e-9*float64(Capacity(s)) {
			t.Fatalf("%v L: %v mm, which holds %v L: %v", volume, depth, s.Volume(depth), err)
		}
	})
}

func TestATableOfOneRowAboveTheBottomIsRefused(t *testing.T) {
	_, err := CapacityTableRising([]Point{{100, 50}}, RiseLying)
	wantInvalid(t, err, "it has 1: expected at least 2")
}

func BenchmarkATableOf500Rows(b *testing.B) {
	lying := shape(b)(HorizontalCylinder(2400, 6000))
	s := shape(b)(CapacityTableRising(strap(lying, 2400.0/499), RiseLying))
	depths := [...]units.Millimetres{3, 150, 777, 1234, 2001, 2390}
	b.Run("volume", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			s.Volume(depths[i%len(depths)])
		}
	})
	b.Run("depth", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			if _, err := DepthOf(s, units.Litres(4500*(i%6))); err != nil {
				b.Fatal(err)
			}
		}
	})
}
