package strap

import (
	"fmt"
	"math"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// table reads a capacity table and the law of its first step; rise is the law where none is stated. The shape is nil
// after a problem, and where there is no table.
func (r *reader) table(o *object, rise tanks.Rise, needed bool) (tanks.Shape, []tanks.Point) {
	before := r.more
	list := o.field("table", isList, needed)
	stated := o.word("first_step", false, "even", "lying", "dished", "cone")
	if list == nil {
		if n := o.found["first_step"]; n != nil && r.more == before {
			r.problem(n, "there is no table for it: expected a table, or no first_step")
		}
		return nil, nil
	}
	if stated != "" {
		rise = map[string]tanks.Rise{"even": tanks.RiseEven, "lying": tanks.RiseLying, "dished": tanks.RiseDished, "cone": tanks.RiseCone}[stated]
	}
	fields := map[string]*node{"rows": list, "first step": o.found["first_step"]}
	points := make([]tanks.Point, 0, len(list.members))
	for i, member := range list.members {
		fields[fmt.Sprintf("row %d", i+1)] = member
		row, ok := r.object(member)
		if !ok {
			continue
		}
		points = append(points, tanks.Point{Depth: row.length("depth", true), Volume: row.volume("volume", true)})
		row.done()
	}
	if r.more > before {
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
func (r *reader) compare(table *node, points []tanks.Point, geometry tanks.Shape) {
	c, err := tanks.Compare(points, geometry)
	if err != nil {
		r.problem(table, "%v", err)
		return
	}
	place := r.where(table.members[c.Row-1].line, table.members[c.Row-1].path())
	more := "more"
	if c.Largest < 0 {
		more = "less"
	}
	facts := message("at %s mm the table holds %s L %s than the dimensions give, %.1f %% of their %s L",
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
func (r *reader) fittings(o *object, bare tanks.Shape) tanks.Shape {
	list := o.field("deadwood", isList, false)
	if list == nil {
		return bare
	}
	before := r.more
	fields := map[string]*node{"pieces": list}
	var pieces []tanks.Deadwood
	for i, member := range list.members {
		fields[fmt.Sprintf("piece %d", i+1)] = member
		p, ok := r.object(member)
		if !ok {
			continue
		}
		piece := tanks.Deadwood{From: p.length("from", true), To: p.length("to", true)}
		p.field("note", isText, false)
		takes, adds := p.volume("displaces", false), p.volume("adds", false)
		switch d, a := p.found["displaces"], p.found["adds"]; {
		case d != nil && a != nil:
			r.problem(a, "a piece either displaces or adds: keep one of the two")
		case d == nil && a == nil:
			p.missing("displaces_l or adds_l")
		case d != nil && !(takes > 0) && d.kind == isNumber:
			r.problem(d, "%s: expected a volume above 0", d.text)
		case a != nil && !(adds > 0) && a.kind == isNumber:
			r.problem(a, "%s: expected a volume above 0", a.text)
		}
		piece.Adds = adds - takes
		pieces = append(pieces, piece)
		p.done()
	}
	if r.more > before || bare == nil {
		return nil
	}
	shape, err := tanks.WithDeadwood(bare, pieces...)
	if err != nil {
		r.blame(&object{r: r, node: list}, err, fields)
		return nil
	}
	return shape
}

// short writes a quantity as people read it.
func short[T ~float64](x T) string { return fmt.Sprintf("%.10g", math.Round(float64(x)*10)/10) }
