package strict

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"overwinter/internal/units"
)

// Object is read field by field; what nobody asked for is then no field of it.
type Object struct {
	Node  *Node
	Found map[string]*Node // the fields that were there, by their names without the unit
	r     *Reader
	known []string // every name that may stand here
	taken map[*Node]bool
}

// Object opens a value as an object.
func (r *Reader) Object(n *Node) (*Object, bool) {
	if n.Kind != IsObject {
		r.Unlike(n, IsObject)
		return nil, false
	}
	return &Object{r: r, Node: n, taken: map[*Node]bool{}, Found: map[string]*Node{}}, true
}

// Unlike is the problem of a value of another type.
func (r *Reader) Unlike(n *Node, expected string) {
	found := n.Kind
	switch n.Kind {
	case IsText, IsNumber:
		found += " (" + Quote(n.Text) + ")"
	case IsTruth:
		found = strconv.FormatBool(n.Truth)
	}
	r.Problem(n, "found %s: expected %s", found, expected)
}

// take finds a field by one of its names; of two it tells.
func (o *Object) take(stem string, names ...string) *Node {
	o.known = append(o.known, names...)
	var found *Node
	for _, m := range o.Node.Members {
		if !slices.Contains(names, m.key) {
			continue
		}
		o.taken[m] = true
		if found != nil {
			o.r.Problem(m, "the same as %s, in another unit: keep one", found.key)
			continue
		}
		found = m
	}
	if found != nil {
		o.Found[stem] = found
	}
	return found
}

// Field takes a field of a kind; nil where it is not there, which is a problem if it is needed.
func (o *Object) Field(name, kind string, needed bool) *Node {
	n := o.take(name, name)
	switch {
	case n == nil && needed:
		o.Missing(name)
	case n != nil && n.Kind != kind:
		o.r.Unlike(n, kind)
		return nil
	}
	return n
}

// Missing is the problem of a field that is not there.
func (o *Object) Missing(name string) {
	path := o.Node.Path()
	if path != "" {
		path += "."
	}
	o.r.problemAt(o.Node.Line, path+name, "missing: %s needs it", o.subject())
}

// subject is how an error speaks of the object.
func (o *Object) subject() string {
	if o.Node.parent == nil || o.Node.number > 0 {
		return "the description"
	}
	return o.Node.key
}

// Number reads a number; ok is false where there is none that can be used.
func (o *Object) Number(name string, needed bool) (x float64, ok bool) {
	n := o.Field(name, IsNumber, needed)
	if n == nil {
		return 0, false
	}
	return o.r.float(n)
}

// float reads a JSON number.
func (r *Reader) float(n *Node) (float64, bool) {
	x, err := strconv.ParseFloat(n.Text, 64)
	if err != nil || math.IsInf(x, 0) {
		r.Problem(n, "%s is too large a number", Quote(n.Text))
		return 0, false
	}
	return x, true
}

// measure reads a quantity whose unit ends its name.
func (o *Object) measure(of units.Dimension, stem string, needed bool) (stored float64, ok bool) {
	names := make([]string, len(of.Scales))
	for i, s := range of.Scales {
		names[i] = stem + "_" + s.Name
	}
	n := o.take(stem, names...)
	if n == nil {
		if needed {
			o.Missing(names[0] + " (or _" + strings.Join(of.Names()[1:], ", _") + ")")
		}
		return 0, false
	}
	if n.Kind != IsNumber {
		o.r.Unlike(n, IsNumber)
		return 0, false
	}
	x, ok := o.r.float(n)
	scale := of.Scales[slices.Index(names, n.key)]
	return scale.ToStored(x), ok
}

// Length reads a length, whose unit ends its name.
func (o *Object) Length(stem string, needed bool) units.Millimetres {
	x, _ := o.measure(units.Length, stem, needed)
	return units.Millimetres(x)
}

// Volume reads a volume, whose unit ends its name.
func (o *Object) Volume(stem string, needed bool) units.Litres {
	x, _ := o.measure(units.Volume, stem, needed)
	return units.Litres(x)
}

// Word reads one of a few words; the empty text where there is none of them.
func (o *Object) Word(name string, needed bool, words ...string) string {
	n := o.Field(name, IsText, needed)
	if n == nil {
		return ""
	}
	if !slices.Contains(words, n.Text) {
		o.r.Problem(n, "%s: expected %s", Quote(n.Text), listed(words))
		return ""
	}
	return n.Text
}

// Child opens a field that is an object itself.
func (o *Object) Child(name string, needed bool) (*Object, bool) {
	n := o.Field(name, IsObject, needed)
	if n == nil {
		return nil, false
	}
	return o.r.Object(n)
}

// Done tells of fields that nobody asked for.
func (o *Object) Done() {
	for _, m := range o.Node.Members {
		if !o.taken[m] {
			o.r.Problem(m, "no such field here: expected one of %s", strings.Join(o.brief(), ", "))
		}
	}
}

// brief lists the known names; a quantity once, in its first unit.
func (o *Object) brief() []string {
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

// Quote shows what was found, a long one shortened.
func Quote(text string) string {
	if runes := []rune(text); len(runes) > 40 {
		text = string(runes[:40]) + "…"
	}
	return strconv.Quote(text)
}

func message(format string, args ...any) string { return fmt.Sprintf(format, args...) }
