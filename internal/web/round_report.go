package web

import (
	"errors"
	"fmt"
	"net/http"
	"path"
	"slices"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/units"
)

// report turns what was typed into a round. What cannot be read is said beside its field; ok is false then.
func (f *roundForm) report() (r intake.Round, ok bool) {
	r.Report = intake.Report{Key: f.Key, Plant: f.plant.ID, Who: f.Who}
	r.At, f.AtWrong = momentOf(f.Day, f.Clock, f.Offered, f.zone)
	if f.AtWrong == "" && r.At.After(f.now) {
		f.AtWrong = fmt.Sprintf("%s is in the future: at the plant it is now %s. Check the date and the time", f.wall(r.At), f.wall(f.now))
	}
	ok = f.AtWrong == ""
	for _, q := range f.fields() {
		if q.stored = nil; q.Value == "" {
			continue
		}
		value, problem := q.figure()
		if q.Wrong = problem; problem != "" {
			ok = false
			continue
		}
		value = toStored(q.scale, value)
		q.stored = &value
	}
	for _, g := range f.Meters {
		f.addMeter(&r, g, &ok)
	}
	for _, g := range f.Tanks {
		f.addTank(&r, g, &ok)
	}
	return r, ok
}

// of gives the value that was typed for a column, nil for none.
func (g *roundGroup) of(column string) *float64 {
	if q := g.field(column); q != nil {
		return q.stored
	}
	return nil
}

func (g *roundGroup) field(column string) *roundField {
	for _, q := range g.Fields {
		if strings.HasSuffix(q.Name, "/"+column) {
			return q
		}
	}
	return nil
}

func (g *roundGroup) empty() bool {
	for _, q := range g.Fields {
		if q.Value != "" {
			return false
		}
	}
	return true
}

// correction says whether a group takes the place of a row, or only takes it away.
func (g *roundGroup) correction() intake.Correction {
	return intake.Correction{Replaces: g.Replaces, Withdraw: g.Replaces != "" && g.empty()}
}

func (f *roundForm) addMeter(r *intake.Round, g *roundGroup, ok *bool) {
	entry := intake.MeterEntry{Correction: g.correction(), Meter: g.id, Temperature: as[units.Celsius](g.of("temperature"))}
	switch register := g.field("register"); {
	case register.stored != nil:
		entry.Register = *register.stored
		r.Meters = append(r.Meters, entry)
	case entry.Withdraw:
		r.Meters = append(r.Meters, entry)
	case !g.empty() && register.Wrong == "":
		register.Wrong, *ok = "a temperature alone says nothing: write the register too, or leave both empty", false
	}
}

func (f *roundForm) addTank(r *intake.Round, g *roundGroup, ok *bool) {
	entry := intake.TankEntry{
		Correction: g.correction(), Tank: g.id,
		Depth: as[units.Millimetres](g.of("depth")), Water: as[units.Millimetres](g.of("water")),
		Volume: as[units.Litres](g.of("volume")), Temperature: as[units.Celsius](g.of("temperature")),
	}
	switch first := g.Fields[0]; { // the depth or the volume
	case first.stored != nil || entry.Withdraw:
		r.Tanks = append(r.Tanks, entry)
	case !g.empty() && first.Wrong == "":
		first.Wrong, *ok = "the rest says nothing without this: write the "+path.Base(first.Name)+" too, or leave all of it empty", false
	}
}

func as[T ~float64](v *float64) *T {
	if v == nil {
		return nil
	}
	x := T(*v)
	return &x
}

// blame puts what intake found wrong beside the fields that it is about. It gives the status to answer
// with; an error that is no fault of the input is handed on.
func (f *roundForm) blame(err error) (status int, other error) {
	var e *fault.Error
	if !errors.As(err, &e) || (e.Kind != fault.Invalid && e.Kind != fault.Conflict) {
		return 0, err
	}
	if e.Kind == fault.Conflict {
		f.Clash = true
		return http.StatusConflict, nil
	}
	for _, one := range e.Fields {
		f.wrong(one.Where, scalesOf(f.plant.Display).inUnits(one.Message))
	}
	return http.StatusUnprocessableEntity, nil
}

// wrong puts a message beside a field that has none yet.
func (f *roundForm) wrong(where, message string) {
	place := f.placeOf(where)
	switch {
	case place != nil && *place == "":
		*place = message
	case where == "meters" && f.unread(): // each of them says why
	case where == "meters":
		f.Top = append(f.Top, "Nothing is filled in yet: write down at least one value. What was not read stays empty.")
	case place == nil:
		f.Top = append(f.Top, sentence(fmt.Sprintf("%s: %s", where, message)))
	}
}

// placeOf gives where the message about a field of the report stands, nil where it has no field of its own.
func (f *roundForm) placeOf(where string) *string {
	switch where {
	case "at":
		return &f.AtWrong
	case "who":
		return &f.WhoWrong
	}
	for _, q := range f.fields() {
		if q.Name == where {
			return &q.Wrong
		}
	}
	return nil
}

// unread tells whether what is wrong is that nothing could be read, not that nothing was typed.
func (f *roundForm) unread() bool {
	return slices.ContainsFunc(f.groups(), func(g *roundGroup) bool { return !g.empty() })
}

// heading says how many values need another look, "" for none, and gives the first of them the focus.
func (f *roundForm) heading() string {
	n := len(f.Top)
	first := true
	for _, q := range f.fields() {
		if q.Wrong != "" {
			q.Focus, first = first, false
			q.Help += " " + q.ID + "-wrong"
			n++
		}
	}
	for _, w := range []string{f.AtWrong, f.WhoWrong} {
		if w != "" {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return capital(count(n, "thing needs", "things need")) + " another look; nothing is written yet"
}
