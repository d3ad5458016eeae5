package tanks

import (
	"math"
	"slices"
	"sort"
	"strconv"

	"overwinter/internal/units"
)

// Point is one row of a capacity table: the volume below a depth.
type Point struct {
	Depth  units.Millimetres
	Volume units.Litres
}

// Rise is the law by which the volume grows between the bottom of a tank and the first row of its
// capacity table, where no row says it: with this power of the depth, from elementary geometry. A table read
// evenly there shows too much fuel in a tank that narrows downwards: in a lying one up to 15 % of the
// first row's volume, just where the unusable bottom is reckoned. From the first row on every table is
// linear between its rows.
type Rise float64

// The laws of the first step.
const (
	RiseEven   Rise = 1   // upright walls on a flat bottom; also where nothing is known
	RiseLying  Rise = 1.5 // a lying cylinder: the chord grows with the root of the depth
	RiseDished Rise = 2   // the bottom of an upright tank is a dome that hangs down
	RiseCone   Rise = 3   // the bottom of an upright tank is a cone that hangs down
)

// CapacityTable is a tank known by its strapping: depth against volume, linear between the rows. It
// takes at least two rows, with depths that rise from row to row and volumes that never fall; a table
// that begins above the bottom is given the row 0 mm, 0 L. Above the last row the volume stays at that of the
// last row. An error names the row, counted from 1.
func CapacityTable(points []Point) (Shape, error) { return CapacityTableRising(points, RiseEven) }

// CapacityTableRising is [CapacityTable] with the law of its first step, from 0 mm, 0 L to the first row
// above the bottom. A power outside 1 to 3 is refused, and so is any but [RiseEven] for a table that has a
// volume at depth 0: a sump has no such law.
func CapacityTableRising(points []Point, rise Rise) (Shape, error) {
	const what = "the capacity table cannot be used"
	if len(points) < 2 {
		return nil, invalid(what, "rows", "it has %d: expected at least 2", len(points))
	}
	for i, p := range points {
		if wrong := wrongRow(points, i); wrong != "" {
			return nil, invalid(what, "row "+strconv.Itoa(i+1), "%s mm, %s L: %s", plain(p.Depth), plain(p.Volume), wrong)
		}
	}
	if !(rise >= RiseEven && rise <= RiseCone) {
		return nil, invalid(what, "first step", "the power %v: expected 1 (even) to 3 (a cone)", float64(rise))
	}
	if points[0].Depth == 0 && points[0].Volume > 0 && rise != RiseEven {
		return nil, invalid(what, "first step", "the table holds %s L at depth 0: expected 0 L there, or an even first step",
			plain(points[0].Volume))
	}
	rows := slices.Clone(points)
	if points[0].Depth > 0 {
		rows = slices.Concat([]Point{{}}, points)
	}
	if rise == RiseEven {
		return table(rows), nil
	}
	return risingTable{table(rows), float64(rise)}, nil
}

// wrongRow says what is wrong with a row of a capacity table; it says nothing when all is well.
func wrongRow(points []Point, i int) string {
	p := points[i]
	switch {
	case !(p.Depth >= 0 && p.Depth <= longest):
		return "expected a depth from 0 to " + plain(longest) + " mm"
	case !(p.Volume >= 0 && p.Volume <= largest):
		return "expected a volume from 0 to " + plain(largest) + " L"
	case i > 0 && p.Depth <= points[i-1].Depth:
		return "expected a depth above the " + plain(points[i-1].Depth) + " mm of the row before"
	case i > 0 && p.Volume < points[i-1].Volume:
		return "expected a volume not below the " + plain(points[i-1].Volume) + " L of the row before"
	case i == len(points)-1 && p.Volume == 0:
		return "expected the last row to hold the capacity of the tank"
	}
	return ""
}

type table []Point

func (t table) Depth() units.Millimetres { return t[len(t)-1].Depth }

func (t table) Volume(depth units.Millimetres) units.Litres {
	i := t.rowAt(depth)
	if i == 0 {
		return t[0].Volume
	}
	below, above := t[i-1], t[i]
	if depth >= above.Depth { // the row itself, without rounding
		return above.Volume
	}
	share := float64((depth - below.Depth) / (above.Depth - below.Depth))
	return min(above.Volume, below.Volume+units.Litres(share)*(above.Volume-below.Volume))
}

// rowAt is the first row at or above a depth, or the last; a depth that is no number counts as empty.
func (t table) rowAt(depth units.Millimetres) int {
	if !(depth > 0) {
		return 0
	}
	return sort.Search(len(t)-1, func(i int) bool { return t[i].Depth >= depth })
}

// depthOf is the lowest depth that holds a volume: exact, since the table is linear between its rows.
func (t table) depthOf(volume units.Litres) units.Millimetres {
	i := sort.Search(len(t)-1, func(i int) bool { return t[i].Volume >= volume })
	if i == 0 {
		return t[0].Depth
	}
	below, above := t[i-1], t[i]
	if volume >= above.Volume {
		return above.Depth
	}
	share := units.Millimetres((volume - below.Volume) / (above.Volume - below.Volume))
	return min(above.Depth, below.Depth+share*(above.Depth-below.Depth))
}

// kinks are the depths at which the volume changes its slope.
func (t table) kinks() []units.Millimetres {
	all := make([]units.Millimetres, len(t))
	for i, p := range t {
		all[i] = p.Depth
	}
	return all
}

// risingTable is a table whose first step follows a power of the depth.
type risingTable struct {
	table
	power float64
}

func (t risingTable) Volume(depth units.Millimetres) units.Litres {
	first := t.table[1]
	if depth > 0 && depth < first.Depth {
		return first.Volume * units.Litres(math.Pow(float64(depth/first.Depth), t.power))
	}
	return t.table.Volume(depth)
}

func (t risingTable) depthOf(volume units.Litres) units.Millimetres {
	first := t.table[1]
	if volume > 0 && volume < first.Volume {
		share := math.Pow(float64(volume/first.Volume), 1/t.power)
		return min(first.Depth, first.Depth*units.Millimetres(share))
	}
	return t.table.depthOf(volume)
}
