package strap

import (
	"errors"
	"math"

	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
)

// tank reads the description of one tank; level counts how deep it lies in joined sets. The shape is nil after
// a problem.
func (r *reader) tank(n *strict.Node, level int) tanks.Shape {
	o, ok := r.Object(n)
	if !ok {
		return nil
	}
	if level > 0 {
		o.Length("bottom_at", true)
	}
	o.Field("note", strict.IsText, false)
	before := r.Count()
	var shape tanks.Shape
	switch o.Word("shape", true, "horizontal", "vertical", "rectangular", "table", "drums", "joined") {
	case "horizontal":
		shape = r.dimensioned(o, r.horizontal)
	case "vertical":
		shape = r.dimensioned(o, r.vertical)
	case "rectangular":
		shape = r.dimensioned(o, r.rectangular)
	case "table":
		measured, _ := r.table(o, tanks.RiseEven, true)
		shape = r.fittings(o, measured)
	case "drums":
		shape = r.drums(o)
	case "joined":
		shape = r.joined(o, level)
	default:
		return nil // without a shape no field can be judged
	}
	o.Done()
	if r.Count() > before {
		return nil
	}
	if capacity := tanks.Capacity(shape); !(capacity >= smallest) {
		r.Problem(n, "the tank would hold %v L: expected %v L or more; check the units", float64(capacity), smallest)
		return nil
	}
	return shape
}

// smallest keeps a wrong unit out, and numbers so small that arithmetic loses them.
const smallest = 0.001

// dimensioned reads a shape by its dimensions, and a capacity table if there is one as well: the table is
// then the tank, since it was measured, and the dimensions check it.
func (r *reader) dimensioned(o *strict.Object, build func(*strict.Object) (tanks.Shape, tanks.Rise)) tanks.Shape {
	shape, rise := build(o)
	shape = r.fittings(o, shape)
	measured, points := r.table(o, rise, false)
	if measured == nil {
		r.unseen(o, shape)
		return shape
	}
	if shape != nil {
		r.compare(o.Found["table"], points, shape)
	}
	return measured
}

func (r *reader) horizontal(o *strict.Object) (tanks.Shape, tanks.Rise) {
	before := r.Count()
	t := tanks.Lying{Diameter: o.Length("diameter", true), Length: o.Length("length", true)}
	fields := map[string]*strict.Node{}
	if heads, ok := o.Child("heads", false); ok {
		t.Left = r.head(heads, "left", "left head", true, fields).Head
		t.Right = r.head(heads, "right", "right head", true, fields).Head
		heads.Done()
	}
	if tilt, ok := o.Child("tilt", false); ok {
		t.Slope = r.slope(tilt)
		t.DipAt = tilt.Length("dip_from_left", true)
		fields["slope"], fields["dip position"] = tilt.Node, tilt.Found["dip_from_left"]
		tilt.Done()
	}
	if r.Count() > before {
		return nil, 0
	}
	shape, err := tanks.LyingCylinder(t)
	if err != nil {
		r.blame(o, err, fields)
		return nil, 0
	}
	if t.Slope != 0 {
		return shape, tanks.RiseEven
	}
	return shape, tanks.RiseLying
}

// unseen tells what the dip of a leaning tank does not show.
func (r *reader) unseen(o *strict.Object, s tanks.Shape) {
	if s == nil {
		return
	}
	place := r.Where(o.Node)
	if low := s.Volume(0); low > 0 {
		r.notices.Add(notice.New(notice.Info, "tilt-unseen", place, "at the dip depth 0 the low end still holds %s L", short(low)))
	}
	if full, whole := s.Volume(s.Depth()), tanks.Capacity(s); whole > full*(1+1e-9) {
		r.notices.Add(notice.New(notice.Info, "tilt-unread", place,
			"the dip reads full at %s L; the tank holds %s L", short(full), short(whole)))
	}
}

// slope reads how a lying tank leans: one of two units, and which end is the lower.
func (r *reader) slope(o *strict.Object) float64 {
	perMetre, inMM := o.Number("slope_mm_per_m", false)
	angle, inDegrees := o.Number("angle_deg", false)
	lower := o.Word("lower_end", true, "left", "right")
	slope := perMetre / 1000
	switch given := o.Found["slope_mm_per_m"] != nil; {
	case given && o.Found["angle_deg"] != nil:
		r.Problem(o.Found["angle_deg"], "the same as slope_mm_per_m, in another unit: keep one")
	case !given && o.Found["angle_deg"] == nil:
		o.Missing("slope_mm_per_m (or angle_deg)")
	case inDegrees && !(angle >= 0 && angle < 90):
		r.Problem(o.Found["angle_deg"], "%v°: expected an angle of 0° or more, with lower_end saying which way", angle)
	case inDegrees:
		slope = math.Tan(angle * math.Pi / 180)
	case inMM && !(perMetre >= 0):
		r.Problem(o.Found["slope_mm_per_m"], "%v mm/m: expected 0 or more, with lower_end saying which way", perMetre)
	}
	if lower == "right" {
		return -slope
	}
	return slope
}

func (r *reader) vertical(o *strict.Object) (tanks.Shape, tanks.Rise) {
	before := r.Count()
	t := tanks.Standing{Diameter: o.Length("diameter", true), Height: o.Length("height", true)}
	fields := map[string]*strict.Node{}
	bottom, roof := r.head(o, "bottom", "bottom", false, fields), r.head(o, "roof", "roof", false, fields)
	t.Bottom, t.BottomRises, t.Roof = bottom.Head, bottom.rises, roof.Head
	if r.Count() > before {
		return nil, 0
	}
	shape, err := tanks.StandingCylinder(t)
	if err != nil {
		r.blame(o, err, fields)
		return nil, 0
	}
	return shape, bottom.rise()
}

func (r *reader) rectangular(o *strict.Object) (tanks.Shape, tanks.Rise) {
	before := r.Count()
	length, width, height := o.Length("length", true), o.Length("width", true), o.Length("height", true)
	if r.Count() > before {
		return nil, 0
	}
	shape, err := tanks.Rectangular(length, width, height)
	if err != nil {
		r.blame(o, err, nil)
		return nil, 0
	}
	return shape, tanks.RiseEven
}

func (r *reader) drums(o *strict.Object) tanks.Shape {
	before := r.Count()
	each := o.Volume("drum_volume", true)
	count, ok := o.Number("count", true)
	if ok && (count != math.Trunc(count) || math.Abs(count) > 1e9) {
		r.Problem(o.Found["count"], "%s: expected a whole number of drums", strict.Quote(o.Found["count"].Text))
	}
	if r.Count() > before {
		return nil
	}
	drums, err := tanks.NewDrums(each, int(count))
	if err != nil {
		r.blame(o, err, map[string]*strict.Node{"drum volume": o.Found["drum_volume"]})
		return nil
	}
	return drums
}

// blame turns the refusal of a shape into problems of the fields that it is about: those of a map by their names
// there, else those of the object by their own.
func (r *reader) blame(o *strict.Object, err error, fields map[string]*strict.Node) {
	var refused *fault.Error
	if !errors.As(err, &refused) || len(refused.Fields) == 0 {
		r.Problem(o.Node, "%v", err)
		return
	}
	for _, f := range refused.Fields {
		where, ok := fields[f.Where]
		if !ok {
			where, ok = o.Found[f.Where]
		}
		if ok && where != nil {
			r.Problem(where, "%s", f.Message)
			continue
		}
		r.Problem(o.Node, "%s: %s", f.Where, f.Message)
	}
}
