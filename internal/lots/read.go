package lots

import (
	"io"
	"math"
	"regexp"
	"strings"

	"overwinter/internal/strict"
	"overwinter/internal/units"
)

// currencyForm is that of ISO 4217.
var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

// reader reads one problem.
type reader struct{ *strict.Reader }

// Read reads a problem as docs/lots.md describes it; name is that of the file, for messages. An error lists each place that is
// wrong as file:line:path.
func Read(name string, in io.Reader) (*Problem, error) {
	r := reader{strict.New(name, "problem description")}
	root, err := r.Parse(in)
	if err != nil {
		return nil, err
	}
	var p *Problem
	if root != nil {
		p = r.problem(root)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return p, nil
}

func (r reader) problem(n *strict.Node) *Problem {
	o, ok := r.Object(n)
	if !ok {
		return nil
	}
	o.Field("note", strict.IsText, false)
	p := &Problem{}
	if n := o.Field("currency", strict.IsText, true); n != nil {
		p.Currency = n.Text
		if !currencyForm.MatchString(n.Text) {
			r.Problem(n, "%s: expected the three capital letters of a currency, such as USD", strict.Quote(n.Text))
		}
	}
	plants := o.Field("plants", strict.IsList, true)
	o.Done()
	if plants == nil {
		return p
	}
	if len(plants.Members) == 0 {
		r.Problem(plants, "empty: expected a plant or more")
	}
	named := map[string]bool{}
	for _, n := range plants.Members {
		plant, nameAt := r.plant(n)
		if named[plant.Name] && nameAt != nil {
			r.Problem(nameAt, "%s is a plant already: give each its own name", strict.Quote(plant.Name))
		}
		named[plant.Name] = true
		p.Plants = append(p.Plants, plant)
	}
	return p
}

// plant reads a plant and gives the place of its name.
func (r reader) plant(n *strict.Node) (Plant, *strict.Node) {
	var p Plant
	o, ok := r.Object(n)
	if !ok {
		return p, nil
	}
	before := r.Count()
	o.Field("note", strict.IsText, false)
	p.Name = text(o, "name")
	places := map[string][]*strict.Object{}
	if list := o.Field("windows", strict.IsList, true); list != nil {
		for _, n := range list.Members {
			if w, ok := r.Object(n); ok {
				p.Windows = append(p.Windows, r.window(w))
				places["windows"] = append(places["windows"], w)
			}
		}
	}
	if list := o.Field("limits", strict.IsList, false); list != nil {
		for _, n := range list.Members {
			if l, ok := r.Object(n); ok {
				p.Limits = append(p.Limits, r.limit(l, p.Windows))
				places["limits"] = append(places["limits"], l)
			}
		}
	}
	o.Done()
	if r.Count() == before {
		r.flaws(&p, o, places)
	}
	return p, o.Found["name"]
}

// flaws turns what is wrong with a plant as a whole into problems of its fields.
func (r reader) flaws(p *Plant, o *strict.Object, places map[string][]*strict.Object) {
	for _, f := range p.Flaws() {
		at := o
		if f.List != "" {
			at = places[f.List][f.At]
		}
		where := at.Found[f.Field]
		if outer, inner, nested := strings.Cut(f.Field, "."); nested {
			where = at.Found[outer]
			for _, m := range where.Members {
				if m.Name() == inner {
					where = m
				}
			}
		}
		if where == nil { // a field that is missing
			r.Problem(at.Node, "%s: %s", f.Field, f.Message)
			continue
		}
		r.Problem(where, "%s", f.Message)
	}
}

func (r reader) window(o *strict.Object) Window {
	o.Field("note", strict.IsText, false)
	w := Window{
		Name:     text(o, "name"),
		Need:     litres(o, "need_l15", true, 0),
		Room:     litres(o, "room_l15", false, math.Inf(1)),
		Min:      litres(o, "min_l15", false, 0),
		Max:      litres(o, "max_l15", false, math.Inf(1)),
		Step:     litres(o, "step_l15", false, 0),
		Fixed:    Money(number(o, "fixed_cost", false, 0)),
		Price:    Price(number(o, "price_per_l15", true, 0)),
		Carrying: Price(number(o, "carrying_per_l15", false, 0)),
	}
	if f, ok := o.Child("fallback", false); ok {
		w.Fallback = &Fallback{Price: Price(number(f, "price_per_l15", true, 0)), Load: litres(f, "load_l15", false, 0)}
		f.Done()
	}
	o.Done()
	return w
}

func (r reader) limit(o *strict.Object, windows []Window) Limit {
	o.Field("note", strict.IsText, false)
	l := Limit{Name: text(o, "name")}
	if list := o.Field("windows", strict.IsList, true); list != nil {
		for _, n := range list.Members {
			if n.Kind != strict.IsText {
				r.Unlike(n, "the name of a window")
				continue
			}
			at := -1
			for i, w := range windows {
				if w.Name == n.Text {
					at = i
				}
			}
			if at < 0 {
				r.Problem(n, "%s: expected the name of one of the plant's windows", strict.Quote(n.Text))
				continue
			}
			l.Windows = append(l.Windows, at)
		}
	}
	if most := litres(o, "max_l15", false, math.Inf(1)); o.Found["max_l15"] != nil {
		l.Litres = &most
	}
	if most := Money(number(o, "max_cost", false, math.Inf(1))); o.Found["max_cost"] != nil {
		l.Money = &most
	}
	o.Done()
	return l
}

func text(o *strict.Object, name string) string {
	if n := o.Field(name, strict.IsText, true); n != nil {
		return n.Text
	}
	return ""
}

// number reads a field; absent is what it is where it is not there.
func number(o *strict.Object, name string, needed bool, absent float64) float64 {
	x, ok := o.Number(name, needed)
	if !ok {
		return absent
	}
	return x
}

func litres(o *strict.Object, name string, needed bool, absent float64) units.LitresAt15 {
	return units.LitresAt15(number(o, name, needed, absent))
}
