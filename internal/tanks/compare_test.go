package tanks

import (
	"testing"

	"overwinter/internal/units"
)

func TestATableIsHeldAgainstTheDimensions(t *testing.T) {
	box := shape(t)(Rectangular(5000, 2000, 2000)) // 10 L per mm
	for _, tt := range []struct {
		name       string
		rows       []Point
		largest    float64
		at         float64
		row        int
		believable bool
	}{
		{"the same", []Point{{0, 0}, {2000, 20000}}, 0, 0, 1, true},
		{"2 % more half way", []Point{{0, 0}, {1000, 10400}, {2000, 20000}}, 400, 1000, 2, true},
		{"ends at the safe fill", []Point{{0, 0}, {1800, 18000}}, 0, 0, 1, true},
		{"a digit slipped", []Point{{0, 0}, {1000, 1000}, {2000, 20000}}, -9000, 1000, 2, false},
		{"too much at the top", []Point{{0, 0}, {1000, 10000}, {2000, 20700}}, 700, 2000, 3, false},
		{"higher than the tank", []Point{{0, 0}, {2000, 20000}, {2100, 20100}}, 100, 2100, 3, false},
		{"a sump", []Point{{0, 30}, {1000, 10000}}, 30, 0, 1, true},
	} {
		c, err := Compare(tt.rows, box)
		if err != nil {
			t.Fatal(tt.name, err)
		}
		near(t, tt.name, float64(c.Largest), tt.largest, 1e-9)
		near(t, tt.name+", share", c.Share(), tt.largest/20000, 1e-12)
		if float64(c.At) != tt.at || c.Row != tt.row || c.Believable() != tt.believable || c.Capacity != 20000 || c.Depth != 2000 {
			t.Errorf("%s: %+v, believable %v", tt.name, c, c.Believable())
		}
	}
	_, err := Compare([]Point{{0, 0}}, box)
	wantInvalid(t, err, "it has 1: expected at least 2")
	_, err = Compare([]Point{{0, 0}, {1, 1}}, shape(t)(VolumeOnly(100)))
	wantInvalid(t, err, "shape: it has no depth")
}

// Rows of the maker's chart of TestALyingCylinderAgreesWithAPrintedDipChart: its inside diameter is 47 in; the nominal 48 in would
// make it hold 4 % more, which is told.
func TestAWrongDiameterIsToldFromAPrintedChart(t *testing.T) {
	const inch, gallon = units.MillimetresPerInch, units.LitresPerUSGallon
	rows := []Point{{0, 0}, {12 * inch, 110 * gallon}, {24 * inch, 282 * gallon}, {36 * inch, 451 * gallon}, {47 * inch, 548 * gallon}}
	for _, tt := range []struct {
		diameter   units.Millimetres
		low, high  float64 // gallons, table less geometry
		believable bool
	}{{47, -0.5, 0.5, true}, {48, -21.5, -20.5, false}} {
		c, err := Compare(rows, shape(t)(HorizontalCylinder(tt.diameter*inch, 73*inch)))
		if off := float64(c.Largest) / gallon; err != nil || !(off >= tt.low && off <= tt.high) || c.Believable() != tt.believable {
			t.Errorf("%v in: %v gal, believable %v, %v", tt.diameter, off, c.Believable(), err)
		}
	}
}
