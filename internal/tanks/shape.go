package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Shape turns depth into volume. Depths are innages: from the bottom of the tank up to the surface.
type Shape interface {
	// Depth is the full inside height, in millimetres; 0 when only the capacity is known.
	Depth() units.Millimetres
	// Volume is the liquid below a depth, in litres, water and unusable bottom included. A depth
	// outside [0, Depth] counts as the nearer end.
	Volume(depth units.Millimetres) units.Litres
}

// Capacity is the volume of a shape filled to the top, in litres. It is more than the volume at the full depth
// where the dip does not stand at the highest point, as in a sloping tank.
func Capacity(s Shape) units.Litres {
	if whole, ok := s.(interface{ capacity() units.Litres }); ok {
		return whole.capacity()
	}
	return s.Volume(s.Depth())
}

// Bounds on what can be a tank: they keep a slipped decimal point or a wrong unit out.
const (
	shortest units.Millimetres = 0.1
	longest  units.Millimetres = 1e6 // 1 km
	largest  units.Litres      = 1e9 // 1 000 000 m³
)

// cubicMillimetresPerLitre is exact.
const cubicMillimetresPerLitre = 1e6

// HorizontalCylinder is a lying cylinder with flat heads; both lengths are inside lengths. The
// liquid's section is a segment of a circle: A(h) = R²·acos((R−h)/R) − (R−h)·√(2Rh − h²), from
// elementary geometry. [LyingCylinder] has heads and a slope.
func HorizontalCylinder(diameter, length units.Millimetres) (Shape, error) {
	if err := checkLengths(named{"diameter", diameter}, named{"length", length}); err != nil {
		return nil, err
	}
	return fit(lyingCylinder{float64(diameter) / 2, float64(length)})
}

// VerticalCylinder is a standing cylinder with a flat bottom; both lengths are inside lengths.
// [StandingCylinder] has other bottoms and a roof.
func VerticalCylinder(diameter, height units.Millimetres) (Shape, error) {
	if err := checkLengths(named{"diameter", diameter}, named{"height", height}); err != nil {
		return nil, err
	}
	radius := float64(diameter) / 2
	return fit(prism{math.Pi * radius * radius, height, true})
}

// Rectangular is a box; all lengths are inside lengths.
func Rectangular(length, width, height units.Millimetres) (Shape, error) {
	if err := checkLengths(named{"length", length}, named{"width", width}, named{"height", height}); err != nil {
		return nil, err
	}
	return fit(prism{float64(length) * float64(width), height, false})
}

// VolumeOnly is a tank of which nothing but the capacity is known. Its depth is 0 and it can be
// gauged by volume only.
func VolumeOnly(capacity units.Litres) (Shape, error) {
	if !(capacity > 0 && capacity <= largest) {
		return nil, invalid("the tank cannot be used", "capacity",
			"%s L is no capacity: expected more than 0 and at most %s L", plain(capacity), plain(largest))
	}
	return volumeOnly{capacity}, nil
}

type lyingCylinder struct{ radiusMM, lengthMM float64 }

func (c lyingCylinder) Depth() units.Millimetres { return units.Millimetres(2 * c.radiusMM) }

func (c lyingCylinder) Volume(depth units.Millimetres) units.Litres {
	h := float64(clampDepth(c, depth))
	return units.Litres(segment(c.radiusMM, h) * c.lengthMM / cubicMillimetresPerLitre)
}

// prism has the same section at every depth.
type prism struct {
	sectionMM2 float64
	depth      units.Millimetres
	round      bool // a cylinder and no box
}

func (p prism) Depth() units.Millimetres { return p.depth }

func (p prism) Volume(depth units.Millimetres) units.Litres {
	return units.Litres(p.sectionMM2 * float64(clampDepth(p, depth)) / cubicMillimetresPerLitre)
}

func (p prism) depthOf(volume units.Litres) units.Millimetres {
	return min(p.depth, units.Millimetres(float64(volume)*cubicMillimetresPerLitre/p.sectionMM2))
}

type volumeOnly struct{ capacity units.Litres }

func (v volumeOnly) Depth() units.Millimetres { return 0 }

func (v volumeOnly) Volume(units.Millimetres) units.Litres { return v.capacity }

func clampDepth(s interface{ Depth() units.Millimetres }, depth units.Millimetres) units.Millimetres {
	if !(depth > 0) { // a depth that is no number counts as empty
		return 0
	}
	return min(depth, s.Depth())
}

type named struct {
	name   string
	length units.Millimetres
}

func checkLengths(all ...named) error {
	for _, l := range all {
		if !(l.length >= shortest && l.length <= longest) {
			return invalid("the tank cannot be used", l.name,
				"%s mm is no inside %s: expected %s to %s mm", plain(l.length), l.name, plain(shortest), plain(longest))
		}
	}
	return nil
}
