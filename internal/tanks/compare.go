package tanks

import (
	"math"

	"overwinter/internal/units"
)

// TableTolerance is how far a capacity table may lie from the dimensions stated for the same tank, as a share of
// the capacity that the dimensions give: 3 %, about 1 % in each inside length. Common practice, no source.
const TableTolerance = 0.03

// Comparison says how a capacity table departs from the stated geometry of the same tank.
type Comparison struct {
	Largest       units.Litres      // the largest difference at a row, table less geometry
	At            units.Millimetres // the depth of that row
	Row           int               // that row, counted from 1
	TableCapacity units.Litres      // volume of the last row
	Capacity      units.Litres      // of the geometry
	TableDepth    units.Millimetres // depth of the last row
	Depth         units.Millimetres // full depth of the geometry
}

// Compare holds each row of a capacity table against the geometry stated for the same tank. What lies
// between the rows is left out, since there the difference may be the table's coarseness alone; above the
// geometry's top its volume stays at the capacity. It refuses what [CapacityTable] refuses, and a geometry without a depth.
func Compare(points []Point, geometry Shape) (Comparison, error) {
	if _, err := CapacityTable(points); err != nil {
		return Comparison{}, err
	}
	if geometry == nil || geometry.Depth() == 0 {
		return Comparison{}, invalid("the capacity table cannot be compared", "shape",
			"it has no depth: expected a tank of which the dimensions are known")
	}
	last := points[len(points)-1]
	c := Comparison{
		TableCapacity: last.Volume, Capacity: Capacity(geometry), TableDepth: last.Depth, Depth: geometry.Depth(),
		At: points[0].Depth, Row: 1, Largest: points[0].Volume - geometry.Volume(points[0].Depth),
	}
	for i, p := range points {
		if off := p.Volume - geometry.Volume(p.Depth); math.Abs(float64(off)) > math.Abs(float64(c.Largest)) {
			c.Largest, c.At, c.Row = off, p.Depth, i+1
		}
	}
	return c, nil
}

// Share is the largest difference over the capacity of the geometry.
func (c Comparison) Share() float64 { return float64(c.Largest / c.Capacity) }

// Believable tells whether table and geometry can be of one tank: no row is farther off than
// [TableTolerance] of the capacity, and the table does not go on above the geometry's top by more than that share of
// its depth. A table that ends lower is believable: many end at the safe fill.
func (c Comparison) Believable() bool {
	return math.Abs(c.Share()) <= TableTolerance && float64(c.TableDepth) <= (1+TableTolerance)*float64(c.Depth)
}
