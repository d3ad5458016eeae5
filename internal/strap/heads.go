package strap

import (
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// end is a head as described.
type end struct {
	tanks.Head
	kind  string
	rises bool // a bottom that curves up into the tank
}

// head reads a head of a cylinder and notes where its measures stand, under the names that the geometry's
// errors use.
func (r *reader) head(o *strict.Object, field, name string, needed bool, fields map[string]*strict.Node) end {
	h, ok := o.Child(field, needed)
	if !ok {
		return end{}
	}
	fields[name] = h.Node
	e := end{kind: h.Word("kind", true, "flat", "ellipsoidal", "ellipsoidal-2-1", "hemispherical", "dished", "conical",
		"torispherical", "flanged-and-dished", "din-28011", "din-28013")}
	depth := func() units.Millimetres {
		d := h.Length("depth", true)
		fields[name+" depth"] = h.Found["depth"]
		return d
	}
	switch e.kind {
	case "": // what stands beside cannot be judged
		return e
	case "ellipsoidal":
		e.Head = tanks.EllipsoidalHead(depth())
	case "ellipsoidal-2-1":
		e.Head = tanks.TwoToOneHead()
	case "hemispherical":
		e.Head = tanks.HemisphericalHead()
	case "dished":
		e.Head = tanks.DishedHead(depth())
	case "conical":
		e.Head = tanks.ConicalHead(depth())
	case "torispherical":
		dish, _ := h.Number("dish_ratio", true)
		knuckle, _ := h.Number("knuckle_ratio", true)
		e.Head = tanks.TorisphericalHead(dish, knuckle)
	case "flanged-and-dished":
		e.Head = tanks.FlangedAndDishedHead()
	case "din-28011":
		e.Head = tanks.DIN28011Head()
	case "din-28013":
		e.Head = tanks.DIN28013Head()
	}
	if field == "bottom" {
		if n := h.Field("rises", strict.IsTruth, false); n != nil {
			e.rises = n.Truth
		}
	}
	h.Done()
	return e
}

// rise is how an upright tank fills from the lowest point of such a bottom.
func (e end) rise() tanks.Rise {
	switch {
	case e.rises, e.kind == "flat", e.kind == "":
		return tanks.RiseEven
	case e.kind == "conical":
		return tanks.RiseCone
	}
	return tanks.RiseDished
}
