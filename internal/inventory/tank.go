package inventory

import (
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Role is a tank's place in the flow of fuel.
type Role string

// The roles in flow order.
const (
	Storage      Role = "storage"
	Intermediate Role = "intermediate"
	DayTank      Role = "day"
)

// ShapeKind names a tank's geometry.
type ShapeKind string

// The shapes a tank may be described by.
const (
	ShapeHorizontal  ShapeKind = "horizontal"  // cylinder lying down: diameter, length
	ShapeVertical    ShapeKind = "vertical"    // cylinder standing: diameter, height
	ShapeRectangular ShapeKind = "rectangular" // length, width, height
	ShapeTable       ShapeKind = "table"       // capacity table
	ShapeVolume      ShapeKind = "volume"      // only the capacity is known: gauged in volume
)

// Tank is one tank of a plant. Depths are innage; lengths are inside measures.
type Tank struct {
	Entry
	Plant   string    `json:"plant"`
	ID      string    `json:"id"`
	Role    Role      `json:"role"`
	Product Product   `json:"product"`
	Shape   ShapeKind `json:"shape"`

	Diameter *units.Millimetres `json:"diameter_mm,omitempty"`
	Length   *units.Millimetres `json:"length_mm,omitempty"`
	Width    *units.Millimetres `json:"width_mm,omitempty"`
	Height   *units.Millimetres `json:"height_mm,omitempty"`
	Capacity *units.Litres      `json:"capacity_l,omitempty"`
	Table    []tanks.Point      `json:"table,omitempty"`

	// ReferenceHeight is that of the point at the hatch, above the bottom, from which ullages are counted.
	ReferenceHeight *units.Millimetres `json:"reference_height_mm,omitempty"`

	// Safe fill and suction level, each as a depth or as a volume. No safe fill means
	// DefaultSafeFill of the capacity; no suction level means that all fuel can be reached.
	SafeFillDepth  *units.Millimetres `json:"safe_fill_depth_mm,omitempty"`
	SafeFillVolume *units.Litres      `json:"safe_fill_volume_l,omitempty"`
	SuctionDepth   *units.Millimetres `json:"suction_depth_mm,omitempty"`
	UnusableVolume *units.Litres      `json:"unusable_volume_l,omitempty"`

	// FillStart and FillStop are the volumes at which a day tank's fill pump starts and stops, LowLevel that
	// at which its low-level float trips, and FillMinutes how long a fill usually takes. See [Tank.DayTank].
	FillStart   *units.Litres `json:"fill_start_l,omitempty"`
	FillStop    *units.Litres `json:"fill_stop_l,omitempty"`
	LowLevel    *units.Litres `json:"low_level_l,omitempty"`
	FillMinutes *float64      `json:"fill_minutes,omitempty"`

	// OwnShare is the plant's share of a tank that it shares with others; nil is all of it.
	OwnShare *float64 `json:"own_share,omitempty"`

	// OutFrom is the first day on which the tank can neither give nor take fuel; BackOn the first on
	// which it can again.
	OutFrom *calendar.Day `json:"out_from,omitempty"`
	BackOn  *calendar.Day `json:"back_on,omitempty"`
}

// DefaultSafeFill is the share of a tank's capacity taken as safe fill where none is set. It follows
// the flow stop of 40 CFR 280.20(c)(1)(ii), not more than 95 %; the sign on the tank comes first.
const DefaultSafeFill = tanks.FillStop

// Kind tells that the row is a tank.
func (t *Tank) Kind() Kind { return KindTank }

// PlantID gives the tank's plant.
func (t *Tank) PlantID() string { return t.Plant }

// Available tells whether the tank is in service on a day.
func (t *Tank) Available(day calendar.Day) bool {
	out := t.OutFrom != nil && day >= *t.OutFrom
	back := t.BackOn != nil && day >= *t.BackOn
	return !out || back
}

// ownShare is the plant's share of what the tank holds.
func (t *Tank) ownShare() float64 { return orElse(t.OwnShare, 1) }

// Measured gives the tank as the measurement room sees it: its shape, safe fill and suction level.
// The error says which dimension is missing or wrong.
func (t *Tank) Measured() (tanks.Tank, error) {
	shape, err := t.shape()
	if err != nil {
		return tanks.Tank{}, err
	}
	m := tanks.Tank{Shape: shape, SafeFill: DefaultSafeFill * tanks.Capacity(shape), ReferenceHeight: orElse(t.ReferenceHeight, 0)}
	switch {
	case t.SafeFillDepth != nil:
		m.SafeFill = shape.Volume(*t.SafeFillDepth)
	case t.SafeFillVolume != nil:
		m.SafeFill = *t.SafeFillVolume
	}
	switch {
	case t.SuctionDepth != nil:
		m.Suction = shape.Volume(*t.SuctionDepth)
	case t.UnusableVolume != nil:
		m.Suction = *t.UnusableVolume
	}
	return m, m.Validate()
}

func (t *Tank) shape() (tanks.Shape, error) {
	var missing []fault.Field
	need := func(name string, v *units.Millimetres) units.Millimetres {
		if v == nil {
			missing = append(missing, fault.Field{Where: name, Message: "a " + string(t.Shape) + " tank needs it"})
			return 0
		}
		return *v
	}
	var build func() (tanks.Shape, error)
	switch t.Shape {
	case ShapeHorizontal:
		d, l := need("diameter", t.Diameter), need("length", t.Length)
		build = func() (tanks.Shape, error) { return tanks.HorizontalCylinder(d, l) }
	case ShapeVertical:
		d, h := need("diameter", t.Diameter), need("height", t.Height)
		build = func() (tanks.Shape, error) { return tanks.VerticalCylinder(d, h) }
	case ShapeRectangular:
		l, w, h := need("length", t.Length), need("width", t.Width), need("height", t.Height)
		build = func() (tanks.Shape, error) { return tanks.Rectangular(l, w, h) }
	case ShapeTable:
		build = func() (tanks.Shape, error) { return tanks.CapacityTable(t.Table) }
	case ShapeVolume:
		if t.Capacity == nil {
			return nil, fault.New(fault.Invalid, "a tank known by volume alone needs its capacity").
				With(fault.Field{Where: "capacity", Message: "a volume tank needs it"})
		}
		build = func() (tanks.Shape, error) { return tanks.VolumeOnly(*t.Capacity) }
	default:
		return nil, fault.New(fault.Invalid, "unknown tank shape %q", t.Shape).
			With(fault.Field{Where: "shape", Message: "expected horizontal, vertical, rectangular, table or volume"})
	}
	if missing != nil {
		return nil, fault.New(fault.Invalid, "the tank's dimensions are incomplete").With(missing...)
	}
	return build()
}
