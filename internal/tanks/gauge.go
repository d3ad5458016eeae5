package tanks

import (
	"math"
	"slices"
	"strings"

	"overwinter/internal/units"
)

// root3 makes a standard deviation of a limit of error.
var root3 = math.Sqrt(3)

// Gauge is the kind of instrument a tank was gauged with. It decides how precise a reading is that states no
// precision of its own. The zero Gauge is "not said": its readings have [DipPrecision] and
// [VolumeReadingPrecision].
//
// A float gauge's dial in eighths of the height is read as a depth, n/8 of the height of the shape; one in eighths
// of the contents is read as a volume, n/8 of the capacity.
type Gauge string

// The gauges. What is printed of an instrument is mostly a limit of error; where nothing more is known the error
// lies anywhere within it, and its standard deviation is the limit over √3 (GUM, JCGM 100, section 4.3.7).
const (
	Stick              Gauge = "stick"               // a stick read to 1/8 in, through a chart or not
	Tape               Gauge = "tape"                // a steel tape with a bob, for innage or ullage
	FloatEighths       Gauge = "float-eighths"       // a float with a dial in eighths of full
	SightGlass         Gauge = "sight-glass"         // a glass or clear hose beside a scale
	AutomaticInventory Gauge = "automatic-inventory" // an automatic gauge, set up for inventory
	AutomaticCustody   Gauge = "automatic-custody"   // an automatic gauge, set up for custody transfer
	DrumCount          Gauge = "drum-count"          // full drums counted, the open one judged by eye
)

var gauges = []Gauge{Stick, Tape, FloatEighths, SightGlass, AutomaticInventory, AutomaticCustody, DrumCount}

// Gauges lists the gauges.
func Gauges() []Gauge { return slices.Clone(gauges) }

// precision is what is known of a gauge: a limit of error in one of three forms, and where it comes from.
type precision struct {
	depth  units.Millimetres // of a depth
	share  float64           // of the full height or of the capacity
	volume units.Litres      // of a volume
	source string
}

// precision knows the limits of error of every gauge.
func (g Gauge) precision() (p precision, known bool) {
	switch g {
	case Stick:
		return precision{depth: units.MillimetresPerInch / 8,
			source: "40 CFR 280.43(a): a stick to the nearest 1/8 in, taken as 1/8 in either way for its two ends"}, true
	case Tape:
		return precision{depth: 3,
			source: "API MPMS 3.1A: readings repeated until they agree within 3 mm; from memory"}, true
	case FloatEighths:
		return precision{share: 1. / 16,
			source: "half a division of the dial either way; common practice, no source"}, true
	case SightGlass:
		return precision{depth: 10,
			source: "10 mm either way; common practice, no source"}, true
	case AutomaticInventory:
		return precision{depth: 25,
			source: "API MPMS 3.1B: as installed 25 mm either way, from memory; in the factory it has to be within 3 mm"}, true
	case AutomaticCustody:
		return precision{depth: 4,
			source: "API MPMS 3.1B: as installed 4 mm either way, from memory; its parts, 1 mm in the factory and 3 mm by installation, are printed so"}, true
	case DrumCount:
		return precision{volume: 55 * units.LitresPerUSGallon / 4,
			source: "a quarter of a drum either way, of 55 US gal where nothing else is known; common practice, no source"}, true
	}
	return precision{}, false
}

// Known tells whether the gauge is one of those above, or not said.
func (g Gauge) Known() bool {
	_, known := g.precision()
	return known || g == ""
}

// Source says where the precision of the gauge comes from.
func (g Gauge) Source() string {
	if p, known := g.precision(); known {
		return p.source
	}
	return "3 mm of a dip (40 CFR 280.43(a)), 1 % of the capacity for a volume (common practice, no source)"
}

// DepthPrecision is one standard deviation of a depth read with the gauge in a tank of this full height, in
// millimetres; never more than the height. A count of drums, which has no depth, has that of a gauge not said.
func (g Gauge) DepthPrecision(full units.Millimetres) units.Millimetres {
	p, _ := g.precision()
	limit := max(p.depth, units.Millimetres(p.share)*full)
	if limit == 0 {
		return min(DipPrecision, full)
	}
	return min(limit/units.Millimetres(root3), full)
}

// VolumePrecision is one standard deviation of a volume read with the gauge, in litres; never more than the
// capacity. Where the gauge itself feels a depth, as a stick read through a chart does, that depth's precision is
// carried through the slope of the shape at the volume; in a tank known by its capacity only, and where a table
// does not rise, it is that of a gauge not said.
func (g Gauge) VolumePrecision(s Shape, volume units.Litres) units.Litres {
	p, _ := g.precision()
	capacity, full := Capacity(s), s.Depth()
	switch {
	case p.volume > 0:
		if d, counted := s.(Drums); counted {
			return d.each / 4 / units.Litres(root3)
		}
		return min(p.volume/units.Litres(root3), capacity)
	case p.share > 0:
		return units.Litres(p.share/root3) * capacity
	case p.depth > 0 && full > 0:
		if depth, err := DepthOf(s, volume); err == nil {
			sigma := g.DepthPrecision(full)
			from, to := max(0, depth-sigma), min(full, depth+sigma)
			if slope := (s.Volume(to) - s.Volume(from)) / units.Litres(to-from); slope > 0 {
				return min(slope*units.Litres(sigma), capacity)
			}
		}
	}
	return VolumeReadingPrecision * capacity
}

// gaugeNames lists the gauges as people write them.
func gaugeNames() string {
	names := make([]string, len(gauges))
	for i, g := range gauges {
		names[i] = string(g)
	}
	return strings.Join(names, ", ")
}
