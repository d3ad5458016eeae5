package web

import (
	"net/url"
	"strconv"
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// supposeForm is the form of a supposition: an address to ask for, without script.
type supposeForm struct {
	Path, Wrong string
	Winters     []winterChoice // none where no winter can be supposed
	NoWinter    string         // then what to load
	Groups      []supposeGroup
	sent        bool
	winter      string
}

// winterChoice is how cold the year to come is supposed to be.
type winterChoice struct {
	Value, Name string
	Chosen      bool
}

// supposeGroup is the fields of one thing that can be supposed.
type supposeGroup struct {
	Legend string
	Fields []supposeField
}

// supposeField is a figure, or a day where Day is set.
type supposeField struct {
	Name, Label, Value, Wrong string
	Day                       bool
	Least, Most               calendar.Day // of a day
}

// winters are those that the form offers, by the share of the observed years that they are colder than.
var winters = []winterChoice{
	{Value: "0.1", Name: "milder than nine in ten"}, {Value: "0.5", Name: "a middling one"}, {Value: "0.75", Name: "colder than three in four"},
	{Value: "0.9", Name: "colder than nine in ten"}, {Value: "1", Name: "as cold as the coldest"},
}

// supposeFormOf makes the form of a plant, filled with what an address holds.
func supposeFormOf(p advice.Plant, v url.Values) supposeForm {
	value := func(name string) string { return strings.TrimSpace(v.Get(name)) }
	first := p.AsOf + 1
	figureOf := func(name, label string) supposeField {
		return supposeField{Name: name, Label: label, Value: value(name)}
	}
	day := func(name, label string) supposeField {
		return supposeField{Name: name, Label: label, Value: value(name), Day: true, Least: first, Most: p.AsOf + advice.SupposedDays}
	}
	f := supposeForm{Path: supposePath(p.Plant), winter: value("winter"), Groups: []supposeGroup{
		{"A mean load that comes; below 0, one that goes", []supposeField{figureOf("load_kw", "kW"), figureOf("load_percent", "or % of the use"), day("load_from", "from")}},
		{"Standing by", []supposeField{day("standby_from", "from"), day("standby_until", "running again on")}},
		{"Engines that need less fuel", []supposeField{figureOf("engines_less_percent", "% less"), day("engines_from", "from")}},
	}}
	f.sent = v.Has("winter")
	for _, g := range f.Groups {
		for _, field := range g.Fields {
			f.sent = f.sent || v.Has(field.Name)
		}
	}
	if !p.TakesWinter {
		f.NoWinter = "A colder or milder winter cannot be supposed here yet: load degree days of three whole years of " + groupName(p) + "."
		return f
	}
	f.Winters = offered(f.winter)
	return f
}

func groupName(p advice.Plant) string {
	if p.Group == "" {
		return "the plants without a climate group"
	}
	return "its climate group, " + plain(p.Group)
}

// offered lists the winters to choose from, with one that only the address names.
func offered(chosen string) []winterChoice {
	all := []winterChoice{{Name: "open", Chosen: chosen == ""}}
	found := chosen == ""
	for _, w := range winters {
		w.Chosen = w.Value == chosen
		found = found || w.Chosen
		all = append(all, w)
	}
	if !found {
		all = append(all, winterChoice{chosen, shortened(chosen), true})
	}
	return all
}

// read takes the supposition from the fields, and says beside those that cannot be read what is wrong.
func (f *supposeForm) read() (s advice.Supposition) {
	if f.winter != "" {
		share, problem := figure(f.winter)
		f.Wrong, s.Winter = sentence(problem), &share
	}
	figures := map[string]**float64{"load_kw": &s.LoadKW, "load_percent": &s.LoadPercent, "engines_less_percent": &s.EnginesPercent}
	dates := map[string]**calendar.Day{"load_from": &s.LoadFrom, "standby_from": &s.StandbyFrom, "standby_until": &s.StandbyUntil, "engines_from": &s.EnginesFrom}
	f.each(func(field *supposeField) {
		if field.Value == "" {
			return
		}
		if field.Day {
			day, err := calendar.ParseDay(field.Value)
			if err != nil {
				field.Wrong = "“" + shortened(field.Value) + "” is no date: write it as 2026-12-01."
			}
			*dates[field.Name] = &day
			return
		}
		number, problem := figure(field.Value)
		field.Wrong, *figures[field.Name] = sentence(problem), &number
	})
	return s
}

func (f *supposeForm) each(do func(*supposeField)) {
	for i := range f.Groups {
		for j := range f.Groups[i].Fields {
			do(&f.Groups[i].Fields[j])
		}
	}
}

func (f *supposeForm) hasWrong() bool {
	wrong := f.Wrong != ""
	f.each(func(field *supposeField) { wrong = wrong || field.Wrong != "" })
	return wrong
}

// wrong puts what a fault says beside its fields, and what has none above the form.
func (f *supposeForm) wrong(err *fault.Error) {
	if len(err.Fields) == 0 {
		f.Wrong = sentence(err.Message)
	}
	for _, at := range err.Fields {
		placed := false
		f.each(func(field *supposeField) {
			if field.Name == at.Where {
				field.Wrong, placed = sentence(at.Message), true
			}
		})
		if !placed {
			f.Wrong = sentence(at.Message)
		}
	}
}

// addressOf writes a supposition as the API is asked for it.
func addressOf(s advice.Supposition) string {
	v := url.Values{}
	for name, x := range map[string]*float64{"winter": s.Winter, "load_kw": s.LoadKW, "load_percent": s.LoadPercent, "engines_less_percent": s.EnginesPercent} {
		if x != nil {
			v.Set(name, strconv.FormatFloat(*x, 'f', -1, 64))
		}
	}
	for name, d := range map[string]*calendar.Day{"load_from": s.LoadFrom, "standby_from": s.StandbyFrom, "standby_until": s.StandbyUntil, "engines_from": s.EnginesFrom} {
		if d != nil {
			v.Set(name, d.String())
		}
	}
	return v.Encode()
}
