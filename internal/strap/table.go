package strap

import (
	"fmt"
	"math"

	"overwinter/internal/notice"
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// table reads a capacity table and the law of its first step; rise is the law where none is stated. The shape is nil
// after a problem, and where there is no table.
func (r *reader) table(o *strict.Object, rise tanks.Rise, needed bool) (tanks.Shape, []tanks.Point) {
	before := r.Count()
	list := o.Field("table", strict.IsList, needed)
	stated := o.Word("first_step", false, "even", "lying", "dished", "cone")
	if list == nil {
		if n := o.Found["first_step"]; n != nil && r.Count() == before {
			r.Problem(n, "there is no table for it: expected a table, or no first_step")
		}
		return nil, nil
	}
	if stated != "" {
		rise = map[string]tanks.Rise{"even": tanks.RiseEven, "lying": tanks.RiseLying, "dished": tanks.RiseDished, "cone": tanks.RiseCone}[stated]
	}
	fields := map[string]*strict.Node{"rows": list, "first step": o.Found["first_step"]}
	points := make([]tanks.Point, 0, len(list.Members))
	for i, member := range list.Members {
		fields[fmt.Sprintf("row %d", i+1)] = member
		row, ok := r.Object(member)
		if !ok {
			continue
		}
		points = append(points, tanks.Point{Depth: row.Length("depth", true), Volume: row.Volume("volume", true)})
		row.Done()
	}
	if r.Count() > before {
		return nil, nil
	}
	if len(points) > 0 && points[0].Depth == 0 && points[0].Volume > 0 && stated == "" {
		rise = tanks.RiseEven // a sump, or the unseen end of a tank that leans
	}
	shape, err := tanks.CapacityTableRising(points, rise)
	if err != nil {
		r.blame(o, err, fields)
		return nil, nil
	}
	return shape, points
}

// compare holds a table against the dimensions and tells the largest difference.
func (r *reader) compare(table *strict.Node, points []tanks.Point, geometry tanks.Shape) {
	c, err := tanks.Compare(points, geometry)
	if err != nil {
		r.Problem(table, "%v", err)
		return
	}
	place := r.Where(table.Members[c.Row-1])
	more := "more"
	if c.Largest < 0 {
		more = "less"
	}
	facts := fmt.Sprintf("at %s mm the table holds %s L %s than the dimensions give, %.1f %% of their %s L",
		short(c.At), short(units.Litres(math.Abs(float64(c.Largest)))), more, 100*math.Abs(c.Share()), short(c.Capacity))
	switch {
	case c.Believable():
		r.notices.Add(notice.New(notice.Info, "table-compared", place, "%s: the table is used", facts))
	case math.Abs(c.Share()) <= tanks.TableTolerance:
		r.notices.Add(notice.New(notice.Caution, "table-unlike-dimensions", place,
			"the table goes on to %s mm, the dimensions end at %s mm: check both, the table is used", short(c.TableDepth), short(c.Depth)))
	default:
		r.notices.Add(notice.New(notice.Caution, "table-unlike-dimensions", place,
			"%s; up to %.0f %% could be measurement: check both, the table is used", facts, 100*tanks.TableTolerance))
	}
}

// fittings reads the deadwood of a shape.
func (r *reader) fittings(o *strict.Object, bare tanks.Shape) tanks.Shape {
	list := o.Field("deadwood", strict.IsList, false)
	if list == nil {
		return bare
	}
	before := r.Count()
	fields := map[string]*strict.Node{"pieces": list}
	var pieces []tanks.Deadwood
	for i, member := range list.Members {
		fields[fmt.Sprintf("piece %d", i+1)] = member
		p, ok := r.Object(member)
		if !ok {
			continue
		}
		piece := tanks.Deadwood{From: p.Length("from", true), To: p.Length("to", true)}
		p.Field("note", strict.IsText, false)
		takes, adds := p.Volume("displaces", false), p.Volume("adds", false)
		switch d, a := p.Found["displaces"], p.Found["adds"]; {
		case d != nil && a != nil:
			r.Problem(a, "a piece either displaces or adds: keep one of the two")
		case d == nil && a == nil:
			p.Missing("displaces_l or adds_l")
		case d != nil && !(takes > 0) && d.Kind == strict.IsNumber:
			r.Problem(d, "%s: expected a volume above 0", d.Text)
		case a != nil && !(adds > 0) && a.Kind == strict.IsNumber:
			r.Problem(a, "%s: expected a volume above 0", a.Text)
		}
		piece.Adds = adds - takes
		pieces = append(pieces, piece)
		p.Done()
	}
	if r.Count() > before || bare == nil {
		return nil
	}
	shape, err := tanks.WithDeadwood(bare, pieces...)
	if err != nil {
		r.blame(&strict.Object{Node: list}, err, fields)
		return nil
	}
	return shape
}

// short writes a quantity as people read it.
func short[T ~float64](x T) string { return fmt.Sprintf("%.10g", math.Round(float64(x)*10)/10) }
