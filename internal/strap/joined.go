package strap

import (
	"fmt"

	"overwinter/internal/notice"
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// deepestSet bounds sets of sets.
const deepestSet = 4

// joined reads a set of tanks that are piped together.
func (r *reader) joined(o *strict.Object, level int) tanks.Shape {
	list := o.Field("tanks", strict.IsList, true)
	if list == nil {
		return nil
	}
	if level >= deepestSet {
		r.Problem(list, "sets within sets, more than %d deep: name the tanks in one list", deepestSet)
		return nil
	}
	before := r.Count()
	fields := map[string]*strict.Node{"tanks": list}
	var members []tanks.Member
	for i, n := range list.Members {
		fields[fmt.Sprintf("tank %d", i+1)] = n
		shape := r.tank(n, level+1)
		if shape == nil {
			continue
		}
		members = append(members, tanks.Member{Shape: shape, Bottom: r.bottomAt(n)})
	}
	if r.Count() > before {
		return nil
	}
	shape, err := tanks.Joined(members...)
	if err != nil {
		r.blame(o, err, fields)
		return nil
	}
	if top := tanks.LowestTop(members...); top < shape.Depth() {
		r.notices.Add(notice.New(notice.Info, "joined-tops-differ", r.Where(list),
			"the lowest top is at %s mm of %s mm: above it that tank counts as full, so see that its vent reaches higher, and set the safe fill",
			short(top), short(shape.Depth())))
	}
	return shape
}

// bottomAt gives the height of a tank that was read already.
func (r *reader) bottomAt(n *strict.Node) units.Millimetres {
	o, _ := r.Object(n)
	return o.Length("bottom_at", true)
}
