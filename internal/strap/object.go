package strap

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"overwinter/internal/units"
)

// object is read field by field; what nobody asked for is then no field of it.
type object struct {
	r     *reader
	node  *node
	known []string // every name that may stand here
	taken map[*node]bool
	found map[string]*node // the fields that were there, by their names without the unit
}

// object opens a value as an object.
func (r *reader) object(n *node) (*object, bool) {
	if n.kind != isObject {
		r.unlike(n, isObject)
		return nil, false
	}
	return &object{r: r, node: n, taken: map[*node]bool{}, found: map[string]*node{}}, true
}

// unlike is the problem of a value of another type.
func (r *reader) unlike(n *node, expected string) {
	found := n.kind
	switch n.kind {
	case isText, isNumber:
		found += " (" + quote(n.text) + ")"
	case isTruth:
		found = strconv.FormatBool(n.truth)
	}
	r.problem(n, "found %s: expected %s", found, expected)
}

// take finds a field by one of its names; of two it tells.
func (o *object) take(stem string, names ...string) *node {
	o.known = append(o.known, names...)
	var found *node
	for _, m := range o.node.members {
		if !slices.Contains(names, m.key) {
			continue
		}
		o.taken[m] = true
		if found != nil {
			o.r.problem(m, "the same as %s, in another unit: keep one", found.key)
			continue
		}
		found = m
	}
	if found != nil {
		o.found[stem] = found
	}
	return found
}

// field takes a field of a kind; nil where it is not there, which is a problem if it is needed.
func (o *object) field(name, kind string, needed bool) *node {
	n := o.take(name, name)
	switch {
	case n == nil && needed:
		o.missing(name)
	case n != nil && n.kind != kind:
		o.r.unlike(n, kind)
		return nil
	}
	return n
}

func (o *object) missing(name string) {
	path := o.node.path()
	if path != "" {
		path += "."
	}
	o.r.problemAt(o.node.line, path+name, "missing: %s needs it", o.subject())
}

// subject is how an error speaks of the object.
func (o *object) subject() string {
	if o.node.parent == nil || o.node.number > 0 {
		return "the description"
	}
	return o.node.key
}

// number reads a number; ok is false where there is none that can be used.
func (o *object) number(name string, needed bool) (x float64, ok bool) {
	n := o.field(name, isNumber, needed)
	if n == nil {
		return 0, false
	}
	return o.r.float(n)
}

// float reads a JSON number.
func (r *reader) float(n *node) (float64, bool) {
	x, err := strconv.ParseFloat(n.text, 64)
	if err != nil || math.IsInf(x, 0) {
		r.problem(n, "%s is too large a number", quote(n.text))
		return 0, false
	}
	return x, true
}

// measure reads a quantity whose unit ends its name.
func (o *object) measure(of units.Dimension, stem string, needed bool) (stored float64, ok bool) {
	names := make([]string, len(of.Scales))
	for i, s := range of.Scales {
		names[i] = stem + "_" + s.Name
	}
	n := o.take(stem, names...)
	if n == nil {
		if needed {
			o.missing(names[0] + " (or _" + strings.Join(of.Names()[1:], ", _") + ")")
		}
		return 0, false
	}
	if n.kind != isNumber {
		o.r.unlike(n, isNumber)
		return 0, false
	}
	x, ok := o.r.float(n)
	scale := of.Scales[slices.Index(names, n.key)]
	return scale.ToStored(x), ok
}

func (o *object) length(stem string, needed bool) units.Millimetres {
	x, _ := o.measure(units.Length, stem, needed)
	return units.Millimetres(x)
}

func (o *object) volume(stem string, needed bool) units.Litres {
	x, _ := o.measure(units.Volume, stem, needed)
	return units.Litres(x)
}

// word reads one of a few words; the empty text where there is none of them.
func (o *object) word(name string, needed bool, words ...string) string {
	n := o.field(name, isText, needed)
	if n == nil {
		return ""
	}
	if !slices.Contains(words, n.text) {
		o.r.problem(n, "%s: expected %s", quote(n.text), listed(words))
		return ""
	}
	return n.text
}

// child opens a field that is an object itself.
func (o *object) child(name string, needed bool) (*object, bool) {
	n := o.field(name, isObject, needed)
	if n == nil {
		return nil, false
	}
	return o.r.object(n)
}

// done tells of fields that nobody asked for.
func (o *object) done() {
	for _, m := range o.node.members {
		if !o.taken[m] {
			o.r.problem(m, "no such field here: expected one of %s", strings.Join(o.brief(), ", "))
		}
	}
}

// brief lists the known names; a quantity once, in its first unit.
func (o *object) brief() []string {
	var names []string
	for _, name := range o.known {
		if cut := strings.LastIndexByte(name, '_'); cut > 0 && len(names) > 0 {
			if last := names[len(names)-1]; strings.HasPrefix(last, name[:cut+1]) && isUnit(name[cut+1:]) {
				continue
			}
		}
		names = append(names, name)
	}
	return names
}

func isUnit(suffix string) bool {
	return slices.Contains(units.Length.Names(), suffix) || slices.Contains(units.Volume.Names(), suffix)
}

func listed(words []string) string {
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// quote shows what was found, a long one shortened.
func quote(text string) string {
	if runes := []rune(text); len(runes) > 40 {
		text = string(runes[:40]) + "…"
	}
	return strconv.Quote(text)
}

func message(format string, args ...any) string { return fmt.Sprintf(format, args...) }
