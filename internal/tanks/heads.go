package tanks

import (
	"overwinter/internal/units"
)

// Head is an end of a cylinder: a surface of revolution about its axis. The zero Head is flat. All depths are
// inside depths along the axis, from the tangent line, where the straight shell ends, to the tip.
//
// Dished heads of the DIN standards are defined on the outside diameter; the inside shape then differs a
// little with the thickness of the wall. Give what was measured inside.
type Head struct {
	kind headKind
	// depth of a head that is described by it, in mm
	depth units.Millimetres
	// dish and knuckle radius of a torispherical head, as shares of the diameter
	dish, knuckle float64
}

type headKind int

const (
	flatHead headKind = iota
	ellipsoidalHead
	twoToOneHead
	hemisphericalHead
	dishedHead
	torisphericalHead
	conicalHead
)

// FlatHead is a flat end.
func FlatHead() Head { return Head{} }

// EllipsoidalHead is half an ellipsoid of revolution of this depth in mm, 0 to 10 times the radius; 0 is
// flat.
func EllipsoidalHead(depth units.Millimetres) Head {
	return Head{kind: ellipsoidalHead, depth: depth}
}

// TwoToOneHead is half an ellipsoid whose depth is a quarter of the diameter.
func TwoToOneHead() Head { return Head{kind: twoToOneHead} }

// HemisphericalHead is half a sphere.
func HemisphericalHead() Head { return Head{kind: hemisphericalHead} }

// DishedHead is a cap of a sphere of this depth in mm, without a knuckle: 0, which is flat, to the radius of the
// tank, which is half a sphere.
func DishedHead(depth units.Millimetres) Head { return Head{kind: dishedHead, depth: depth} }

// ConicalHead is a cone of this depth in mm, 0 to 10 times the radius; 0 is flat.
func ConicalHead(depth units.Millimetres) Head { return Head{kind: conicalHead, depth: depth} }

// TorisphericalHead is a cap of a sphere joined to the shell by a knuckle, each radius a share of the inside
// diameter: dish 0.5 to 100, knuckle 0.001 to 0.5 and no more than the dish. Its depth follows:
//
//	f·D − √((f·D − k·D)² − (D/2 − k·D)²)
func TorisphericalHead(dish, knuckle float64) Head {
	return Head{kind: torisphericalHead, dish: dish, knuckle: knuckle}
}

// FlangedAndDishedHead is the torispherical head of dish radius D and knuckle radius 0.06·D (ASME Boiler and
// Pressure Vessel Code, VIII-1, UG-32: the least that it allows).
func FlangedAndDishedHead() Head { return TorisphericalHead(1, 0.06) }

// DIN28011Head is the torispherical head of dish radius D and knuckle radius 0.1·D.
func DIN28011Head() Head { return TorisphericalHead(1, 0.1) }

// DIN28013Head is the torispherical head of dish radius 0.8·D and knuckle radius 0.154·D.
func DIN28013Head() Head { return TorisphericalHead(0.8, 0.154) }

// Depth is the inside depth of the head on a cylinder of this inside diameter, in mm. It refuses a head that does
// not fit there.
func (h Head) Depth(diameter units.Millimetres) (units.Millimetres, error) {
	p, err := h.profile("head", diameter)
	if err != nil {
		return 0, err
	}
	return units.Millimetres(p.depth()), nil
}

// Volume is what the head holds when full, in litres, on a cylinder of this inside diameter. It refuses a head
// that does not fit there.
func (h Head) Volume(diameter units.Millimetres) (units.Litres, error) {
	p, err := h.profile("head", diameter)
	if err != nil {
		return 0, err
	}
	return units.Litres(p.revolved(p.depth()) / cubicMillimetresPerLitre), nil
}

const (
	// deepest is the greatest depth of a head, in radii of its tank: more is a slip of a unit.
	deepest = 10
	// shallowest is the least depth, in mm, of a head that is not taken as flat.
	shallowest = 1e-6
	// sharpest is the least knuckle radius, as a share of the diameter; a head without a knuckle is dished.
	sharpest = 0.001
)

// profile gives the shape of the head on a cylinder of this diameter; name is what an error calls it.
func (h Head) profile(name string, diameter units.Millimetres) (profile, error) {
	if err := checkLengths(named{"diameter", diameter}); err != nil {
		return nil, err
	}
	radius, depth := float64(diameter)/2, float64(h.depth)
	most := deepest * radius
	switch h.kind {
	case twoToOneHead:
		depth = radius / 2
	case hemisphericalHead:
		depth = radius
	case dishedHead:
		most = radius
	case torisphericalHead:
		return h.torispherical(name, radius)
	}
	if !(depth >= 0 && depth <= most) {
		return nil, invalid("the tank cannot be used", name+" depth",
			"%s mm: expected 0 to %s mm for a head of this kind on a tank of %s mm", plain(depth), plain(most), plain(diameter))
	}
	switch {
	case depth < shallowest:
		return flat{}, nil
	case h.kind == conicalHead:
		return cone{radius, depth}, nil
	case h.kind == dishedHead && depth < radius:
		return newCap(radius, depth), nil
	}
	return ellipsoid{radius, depth}, nil
}

func (h Head) torispherical(name string, radius float64) (profile, error) {
	if !(h.knuckle >= sharpest && h.knuckle <= 0.5 && h.dish >= 0.5 && h.knuckle <= h.dish && h.dish <= 100) {
		return nil, invalid("the tank cannot be used", name,
			"a dish radius of %s and a knuckle radius of %s of the diameter: expected a dish of 0.5 to 100 and a knuckle of %s to 0.5",
			plain(h.dish), plain(h.knuckle), plain(sharpest))
	}
	if h.dish == 0.5 || h.knuckle == 0.5 { // the dish, or the knuckle, is half a sphere
		return ellipsoid{radius, radius}, nil
	}
	return newTorisphere(radius, 2*radius*h.dish, 2*radius*h.knuckle), nil
}
