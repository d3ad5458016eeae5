package tanks

import (
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

// CapacityTable is a tank known by its strapping: depth against volume, linear between the rows. It
// takes at least two rows, with depths that rise from row to row and volumes that never fall; a table
// that begins above the bottom is given the row 0 mm, 0 L. Above the last row the volume stays at that of the
// last row. An error names the row, counted from 1.
func CapacityTable(points []Point) (Shape, error) {
	if len(points) < 2 {
		return nil, invalid("the capacity table cannot be used", "rows",
			"it has %d: expected at least 2", len(points))
	}
	for i, p := range points {
		if wrong := wrongRow(points, i); wrong != "" {
			return nil, invalid("the capacity table cannot be used", "row "+strconv.Itoa(i+1),
				"%s mm, %s L: %s", plain(p.Depth), plain(p.Volume), wrong)
		}
	}
	if points[0].Depth > 0 {
		return table(slices.Concat([]Point{{}}, points)), nil
	}
	return table(slices.Clone(points)), nil
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
	depth = clampDepth(t, depth)
	i := sort.Search(len(t)-1, func(i int) bool { return t[i].Depth >= depth })
	if i == 0 {
		return t[0].Volume
	}
	below, above := t[i-1], t[i]
	share := float64((depth - below.Depth) / (above.Depth - below.Depth))
	return below.Volume + units.Litres(share)*(above.Volume-below.Volume)
}

// depthOf is the lowest depth that holds a volume: exact, since the table is linear between its rows.
func (t table) depthOf(volume units.Litres) units.Millimetres {
	i := sort.Search(len(t)-1, func(i int) bool { return t[i].Volume >= volume })
	if i == 0 {
		return t[0].Depth
	}
	below, above := t[i-1], t[i]
	share := units.Millimetres((volume - below.Volume) / (above.Volume - below.Volume))
	return min(above.Depth, below.Depth+share*(above.Depth-below.Depth))
}
