package web

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"net/url"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// roundField is one question of the form. Its name is the field's name in the report.
type roundField struct {
	Name, ID, Label, Unit string
	Value                 string // as typed
	Before                string // what was read last, and when
	Wrong                 string
	Focus                 bool
	Says                  string // how the value compares with the last one
	Help                  string // ids of what describes the field
	// Last, Per, Rolls and Since let the script say the same while a person types: the last value, the litres
	// of one count, the count at which a register rolls over, and the moment of the last value by the clocks.
	Last, Per, Rolls, Since string

	scale  units.Scale
	stored *float64 // once read
}

// roundGroup is a meter, or a tank with what is measured of it.
type roundGroup struct {
	Name, Kind string
	Fields     []*roundField
	Doubts     []string
	Replaces   string // key of the row that is corrected
	DayTank    *dayTankGuide

	id   string
	tank *inventory.Tank // nil for a meter
}

// Row is the name under which a form sends the key of the row that it corrects.
func (g *roundGroup) Row() string { return "replaces/" + g.Kind + "/" + g.id }

// roundForm is the questions of one plant.
type roundForm struct {
	plant         *inventory.Plant
	zone          *time.Location
	now           time.Time
	Meters, Tanks []*roundGroup
	Together      string // what went through all meters
	Day, Clock    string
	Offered       string // the moment for which the date and the time were filled in
	AtWrong       string
	Who, WhoWrong string
	Key           string
	Again         string // key of the round that this one corrects
	Top           []string
	Clash         bool // another round is written under the form's key, or took the place that this one should take
}

func (f *roundForm) groups() []*roundGroup {
	return append(append([]*roundGroup{}, f.Meters...), f.Tanks...)
}

func (f *roundForm) fields() []*roundField {
	var all []*roundField
	for _, g := range f.groups() {
		all = append(all, g.Fields...)
	}
	return all
}

// newRoundForm lays the questions of a plant out: every meter, and every tank in service. A tank is asked for
// as volumes says, by its id, or else as it was read last: as a volume or as a depth.
func newRoundForm(dir *inventory.Directory, p *inventory.Plant, zone *time.Location, last intake.Last, day calendar.Day, volumes map[string]bool) *roundForm {
	f := &roundForm{plant: p, zone: zone}
	in := scalesOf(p.Display)
	for _, m := range dir.MetersOf(p.ID) {
		f.Meters = append(f.Meters, f.meterGroup(m, last.Meters[m.ID], in, day))
	}
	for _, t := range dir.TanksOf(p.ID) {
		if !t.Available(day) {
			continue
		}
		before := last.Tanks[t.ID]
		if before == nil {
			before = &inventory.Gauging{}
		}
		volume, said := volumes[t.ID]
		if !said {
			volume = before.Volume != nil
		}
		f.Tanks = append(f.Tanks, f.tankGroup(t, before, in, day, volume || t.Shape == inventory.ShapeVolume))
	}
	return f
}

func (f *roundForm) meterGroup(m *inventory.Meter, last *inventory.MeterReading, in scales, day calendar.Day) *roundGroup {
	g := &roundGroup{Name: "Meter " + plain(m.ID), Kind: "meters", id: m.ID}
	register := g.ask("register", "register", units.Scale{Label: counts, Factor: 1})
	factor := m.Factor
	if factor == 0 {
		factor = 1
	}
	register.Per = strconv.FormatFloat(m.LitresPerCount*factor/in.volume.Factor, 'g', 8, 64)
	if m.Digits > 0 {
		register.Rolls = strconv.FormatFloat(math.Pow10(m.Digits), 'f', 0, 64)
	}
	var temperature *roundField
	if !m.Compensated {
		temperature = g.ask("temperature", "fuel temperature", in.temperature)
	}
	if last == nil {
		return g
	}
	f.remember(register, &last.Register, last.At, day)
	if temperature != nil {
		f.remember(temperature, stored(last.Temperature), last.At, day)
	}
	return g
}

func (f *roundForm) tankGroup(t *inventory.Tank, last *inventory.Gauging, in scales, day calendar.Day, volume bool) *roundGroup {
	g := &roundGroup{Name: tankName(t), Kind: "tanks", id: t.ID, tank: t}
	if volume {
		f.remember(g.ask("volume", "volume", in.volume), stored(last.Volume), last.At, day)
	} else {
		f.remember(g.ask("depth", "liquid depth", in.depth), stored(last.Depth), last.At, day)
	}
	if t.Shape != inventory.ShapeVolume {
		f.remember(g.ask("water", "of that, water", in.depth), stored(last.Water), last.At, day)
	}
	f.remember(g.ask("temperature", "fuel temperature", in.temperature), stored(last.Temperature), last.At, day)
	return g
}

// tankName calls a tank by its role and id, by its role alone where both are one word.
func tankName(t *inventory.Tank) string {
	name := capital(string(t.Role)) + " tank"
	if t.ID == string(t.Role) {
		return name
	}
	return name + " " + plain(t.ID)
}

func stored[T ~float64](v *T) *float64 {
	if v == nil {
		return nil
	}
	x := float64(*v)
	return &x
}

// ask adds a question to a group.
func (g *roundGroup) ask(column, label string, scale units.Scale) *roundField {
	name := g.Kind + "/" + g.id + "/" + column
	f := &roundField{Name: name, ID: fieldID(name), Label: label, Unit: scale.Label, scale: scale}
	f.Help = f.ID + "-before " + f.ID + "-says"
	g.Fields = append(g.Fields, f)
	return f
}

// fieldID makes an id for the page of a field's name, which may hold anything.
func fieldID(name string) string {
	sum := sha256.Sum256([]byte(name))
	return "f" + hex.EncodeToString(sum[:5])
}

// remember sets what was read last beside a question.
func (f *roundForm) remember(q *roundField, last *float64, at time.Time, day calendar.Day) {
	if last == nil {
		return
	}
	q.Last, q.Since = typed(q.scale, *last), at.In(f.zone).Format("2006-01-02T15:04")
	q.Before = read(q.scale, *last) + " · " + clockMoment(at, f.zone, day)
}

// worthReading is how many decimals of a value are worth reading, by unit. Dips are read to an eighth of an
// inch, registers to a tenth of a count; common practice, no source.
var worthReading = map[string]int{"cm": 1, "m": 3, "in": 3, "ft": 3, "m³": 2, "kL": 2, "bbl": 1, "°C": 1, "°F": 1, counts: 1}

const counts = "counts"

// read writes a stored value for people in a unit, to what is worth reading of it.
func read(scale units.Scale, stored float64) string {
	shown := scale.FromStored(stored)
	text := strconv.FormatFloat(math.Abs(shown), 'f', worthReading[scale.Label], 64)
	before, after, point := strings.Cut(text, ".")
	number, _ := strconv.ParseFloat(before, 64) // digits alone
	text = whole(number)
	if after = strings.TrimRight(after, "0"); point && after != "" {
		text += "." + after
	}
	if shown < 0 && strings.Trim(text, "0.") != "" {
		text = "−" + text
	}
	return text
}

// clockMoment writes a moment by the clocks of a plant, without the name of its zone.
func clockMoment(at time.Time, zone *time.Location, day calendar.Day) string {
	on := calendar.DayOf(at, zone)
	switch on {
	case day:
		return "today, " + at.In(zone).Format("15:04")
	case day - 1:
		return "yesterday, " + at.In(zone).Format("15:04")
	}
	return shortDay(on, day) + ", " + at.In(zone).Format("15:04")
}

// fill takes over what was typed.
func (f *roundForm) fill(v url.Values) {
	f.Key, f.Again, f.Who = v.Get("key"), v.Get("again"), strings.TrimSpace(v.Get("who"))
	f.Day, f.Clock, f.Offered = v.Get("day"), v.Get("clock"), v.Get("offered")
	for _, g := range f.groups() {
		g.Replaces = v.Get(g.Row())
	}
	for _, q := range f.fields() {
		q.Value = strings.TrimSpace(v.Get(q.Name))
	}
}

// seal identifies what was typed, so that a confirmation holds for these values and no others.
func (f *roundForm) seal() string {
	h := sha256.New()
	fmt.Fprintf(h, "%s %s", f.Day, f.Clock)
	for _, q := range f.fields() {
		fmt.Fprintf(h, "\n%s=%s", q.Name, q.Value)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}
