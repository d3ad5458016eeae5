package units

import (
	"fmt"
	"slices"
	"strings"
)

// Scale converts a number written in some unit to the stored unit of its dimension:
// stored = written × Factor + Offset.
type Scale struct {
	Name   string // as it stands in a column name: us_gal, in, f
	Label  string // as people read it: US gal, in, °F
	Factor float64
	Offset float64
}

// ToStored converts a written number to the stored unit.
func (s Scale) ToStored(written float64) float64 { return written*s.Factor + s.Offset }

// FromStored converts a stored number to this unit.
func (s Scale) FromStored(stored float64) float64 { return (stored - s.Offset) / s.Factor }

// Dimension is a kind of quantity together with the units it may be written in. The first scale
// is the stored one.
type Dimension struct {
	Name   string
	Scales []Scale
}

// The dimensions that people write readings in.
var (
	Volume = Dimension{"volume", []Scale{
		{Name: "l", Label: "L", Factor: 1},
		{Name: "us_gal", Label: "US gal", Factor: LitresPerUSGallon},
		{Name: "imp_gal", Label: "imp gal", Factor: LitresPerImperialGallon},
		{Name: "m3", Label: "m³", Factor: 1000},
		{Name: "kl", Label: "kL", Factor: 1000},
		{Name: "bbl", Label: "bbl", Factor: LitresPerBarrel},
	}}
	Length = Dimension{"length", []Scale{
		{Name: "mm", Label: "mm", Factor: 1},
		{Name: "cm", Label: "cm", Factor: 10},
		{Name: "m", Label: "m", Factor: 1000},
		{Name: "in", Label: "in", Factor: MillimetresPerInch},
		{Name: "ft", Label: "ft", Factor: MillimetresPerFoot},
	}}
	Temperature = Dimension{"temperature", []Scale{
		{Name: "c", Label: "°C", Factor: 1},
		{Name: "f", Label: "°F", Factor: 1 / 1.8, Offset: -32 / 1.8},
	}}
	// HeatingDegreeDays is a sum of temperature differences, so that the zeros of the scales do not count.
	HeatingDegreeDays = Dimension{"degree days", []Scale{
		{Name: "c", Label: "°C·d", Factor: 1},
		{Name: "f", Label: "°F·d", Factor: 1 / 1.8},
	}}
	Density = Dimension{"density", []Scale{
		{Name: "kgm3", Label: "kg/m³", Factor: 1},
	}}
)

// Scale finds the scale with the given column suffix.
func (d Dimension) Scale(name string) (Scale, error) {
	i := slices.IndexFunc(d.Scales, func(s Scale) bool { return s.Name == name })
	if i < 0 {
		return Scale{}, fmt.Errorf("%s has no unit %q: use one of %s", d.Name, name, strings.Join(d.Names(), ", "))
	}
	return d.Scales[i], nil
}

// Names lists the column suffixes of the dimension's units.
func (d Dimension) Names() []string {
	names := make([]string, len(d.Scales))
	for i, s := range d.Scales {
		names[i] = s.Name
	}
	return names
}
