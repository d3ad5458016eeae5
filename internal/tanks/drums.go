package tanks

import "overwinter/internal/units"

// mostDrums keeps a slipped digit out.
const mostDrums = 1_000_000

// Drums are a stock of equal drums that is counted and not dipped. As a [Shape] they are what
// [VolumeOnly] is: the capacity of all of them and no depth, so that a count goes into a [Reading] as its Volume.
type Drums struct {
	each units.Litres
	most int
}

// NewDrums is a place for so many drums, each holding so many litres: 1 to 1,000,000 drums of more than 0 L.
func NewDrums(each units.Litres, most int) (Drums, error) {
	const what = "the drums cannot be used"
	if !(each > 0 && each <= largest) {
		return Drums{}, invalid(what, "drum volume", "%s L: expected more than 0 and at most %s L", plain(each), plain(largest))
	}
	if most < 1 || most > mostDrums {
		return Drums{}, invalid(what, "count", "%d drums: expected 1 to %d", most, mostDrums)
	}
	if each*units.Litres(most) > largest {
		return Drums{}, invalid(what, "count", "%d drums of %s L: expected at most %s L in all", most, plain(each), plain(largest))
	}
	return Drums{each, most}, nil
}

// Counted is the volume of so many full drums and of one part drum, in tenths of a drum: nobody reads a
// part drum finer. It refuses a count below 0 or above the number of drums, and tenths outside 0 to 9.
func (d Drums) Counted(full, tenths int) (units.Litres, error) {
	const what = "the count cannot be used"
	if tenths < 0 || tenths > 9 {
		return 0, invalid(what, "part drum", "%d tenths: expected 0 to 9 tenths of a drum", tenths)
	}
	if full < 0 || full > d.most || full == d.most && tenths > 0 {
		return 0, invalid(what, "count", "%d drums and %d tenths: expected 0 to %d drums", full, tenths, d.most)
	}
	return d.each * units.Litres(10*full+tenths) / 10, nil
}

// Count is the number of drums there is place for.
func (d Drums) Count() int { return d.most }

// Depth is 0: drums have none.
func (d Drums) Depth() units.Millimetres { return 0 }

// Volume is that of all drums full, whatever the depth.
func (d Drums) Volume(units.Millimetres) units.Litres { return d.each * units.Litres(d.most) }
