package inventory

import (
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Check says what is wrong with the tank's row; see [Plant.Check].
func (t *Tank) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&t.Entry)
	f.id("tank", t.ID)
	if t.Void {
		f.id("plant", t.Plant)
		return f
	}
	f.plant(dir, t.Plant)
	oneOf(&f, "role", t.Role, Storage, Intermediate, DayTank)
	oneOf(&f, "product", t.Product, Products()...)
	f.service(t)
	if t.OwnShare != nil {
		f.within("own_share", *t.OwnShare, 0.001, 1, "")
	}
	if oneOf(&f, "shape", t.Shape, ShapeHorizontal, ShapeVertical, ShapeRectangular, ShapeTable, ShapeVolume) {
		f.geometry(t)
	}
	return f
}

// service checks the days on which the tank is out.
func (f *findings) service(t *Tank) {
	if t.OutFrom != nil {
		f.day("out_from", *t.OutFrom)
	}
	if t.BackOn == nil {
		return
	}
	f.day("back_on", *t.BackOn)
	switch {
	case t.OutFrom == nil:
		f.add("back_on", "in service again from %s, but never out: fill in out_from, or leave back_on blank", *t.BackOn)
	case *t.BackOn <= *t.OutFrom:
		f.add("back_on", "%s is not after out_from, %s: expected the first day on which the tank is in service again",
			*t.BackOn, *t.OutFrom)
	}
}

// geometry checks that the tank can be built and that its levels lie in order.
func (f *findings) geometry(t *Tank) {
	before := len(*f)
	f.capacity(t)
	if t.Shape == ShapeTable && len(t.Table) < 2 {
		f.add("shape", "the tank's capacity table has %d points: expected at least 2", len(t.Table))
		return
	}
	shape, err := t.shape()
	f.inner(err, t.column)
	if len(*f) > before {
		return
	}
	f.levels(t, shape)
	if len(*f) > before {
		return
	}
	f.reference(t, shape)
	_, err = t.Measured()
	f.inner(err, t.column)
	if len(*f) == before {
		f.fillBand(t)
	}
}

// capacity checks that the stated capacity is a volume at all.
func (f *findings) capacity(t *Tank) {
	if t.Capacity != nil {
		f.volume("capacity", float64(*t.Capacity))
	}
	if t.Table != nil && t.Shape != ShapeTable {
		f.add("shape", "the tank has a capacity table but its shape is %s: expected the shape table", t.Shape)
	}
}

// levels checks safe fill and suction level, each given once and inside the tank.
func (f *findings) levels(t *Tank, shape tanks.Shape) {
	before := len(*f)
	fill := f.level(shape, "safe_fill", t.SafeFillVolume, "safe_fill_depth", t.SafeFillDepth)
	suction := f.level(shape, "unusable", t.UnusableVolume, "suction_depth", t.SuctionDepth)
	if len(*f) > before {
		return
	}
	full := tanks.Capacity(shape)
	if fill == nil {
		fill = new(units.Litres)
		*fill = units.Litres(DefaultSafeFill * float64(full))
	}
	where := func(depth *units.Millimetres, byDepth, byVolume string) string {
		if depth != nil {
			return byDepth
		}
		return byVolume
	}
	if *fill <= 0 {
		f.add(where(t.SafeFillDepth, "safe_fill_depth", "safe_fill"), "a safe fill of nothing leaves no tank: expected more than 0")
	} else if suction != nil && *suction >= *fill {
		f.add(where(t.SuctionDepth, "suction_depth", "unusable"), "%s cannot be reached, but safe fill is %s: expected the suction level below it",
			amount(float64(*suction), "L"), amount(float64(*fill), "L"))
	}
}

// reference checks the point that ullages are counted from: it lies above the tank or a little inside it.
func (f *findings) reference(t *Tank, shape tanks.Shape) {
	switch {
	case t.ReferenceHeight == nil:
	case shape.Depth() == 0:
		f.add("reference_height", "only the capacity of this tank is known, so that no ullage can be read: leave it blank")
	case *t.ReferenceHeight < shape.Depth()/2:
		f.add("reference_height", "%s is less than half of the tank's %s: expected the height of the gauge hatch above the bottom",
			amount(float64(*t.ReferenceHeight), "mm"), amount(float64(shape.Depth()), "mm"))
	}
}

// level gives the volume below a level that is stated as a depth or as a volume, nil where it is not
// stated.
func (f *findings) level(shape tanks.Shape, byVolume string, volume *units.Litres, byDepth string, depth *units.Millimetres) *units.Litres {
	switch {
	case volume != nil && depth != nil:
		f.add(byDepth, "the level is given as a depth and as a volume: leave one of them blank")
	case volume != nil:
		if full := tanks.Capacity(shape); f.inside(byVolume, float64(*volume), float64(full), "L", "check it and the tank's shape") {
			return volume
		}
	case depth != nil && shape.Depth() == 0:
		f.add(byDepth, "only the capacity of this tank is known: give a volume instead")
	case depth != nil:
		if f.inside(byDepth, float64(*depth), float64(shape.Depth()), "mm", "check it and the tank's shape") {
			below := shape.Volume(*depth)
			return &below
		}
	}
	return nil
}

// inside checks that a depth or volume lies between nothing and the full tank.
func (f *findings) inside(where string, value, full float64, unit, advice string) bool {
	switch {
	case value >= 0 && value <= full:
		return true
	case value > full:
		f.add(where, "%s is above the tank's %s: %s", amount(value, unit), amount(full, unit), advice)
	default:
		f.add(where, "%s is below nothing: expected 0 to %s", amount(value, unit), amount(full, unit))
	}
	return false
}

// column names the column for a part of the tank that cannot be built.
func (t *Tank) column(part string) string {
	switch {
	case part == "diameter", part == "length", part == "width", part == "height", part == "capacity":
		return part
	case part == "reference height":
		return "reference_height"
	case part == "safe fill":
		return "safe_fill"
	case part == "suction":
		return "unusable"
	}
	return "shape"
}
