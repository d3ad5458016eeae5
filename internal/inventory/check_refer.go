package inventory

import (
	"strings"
	"sync"
	"time"
)

// plant looks a row's plant up; without one there is nothing to check the rest against.
func (f *findings) plant(dir *Directory, id string) (*Plant, bool) {
	if !f.id("plant", id) {
		return nil, false
	}
	if p := dir.Plant(id); p != nil {
		return p, true
	}
	f.unknown("plant", id, "plant", "", names(dir.Plants(), func(p *Plant) string { return p.ID }))
	return nil, false
}

// tank looks a tank of a known plant up.
func (f *findings) tank(dir *Directory, where, plant, id string) (*Tank, bool) {
	if !f.id(where, id) {
		return nil, false
	}
	if t := dir.Tank(plant, id); t != nil {
		return t, true
	}
	f.unknown(where, id, "tank", " at plant "+plant, names(dir.TanksOf(plant), func(t *Tank) string { return t.ID }))
	return nil, false
}

// meter looks a meter of a known plant up.
func (f *findings) meter(dir *Directory, plant, id string) (*Meter, bool) {
	if !f.id("meter", id) {
		return nil, false
	}
	if m := dir.Meter(plant, id); m != nil {
		return m, true
	}
	f.unknown("meter", id, "meter", " at plant "+plant, names(dir.MetersOf(plant), func(m *Meter) string { return m.ID }))
	return nil, false
}

// route looks a supply route up.
func (f *findings) route(dir *Directory, id string) (*Route, bool) {
	if !f.id("route", id) {
		return nil, false
	}
	if r := dir.Route(id); r != nil {
		return r, true
	}
	f.unknown("route", id, "supply route", "", names(dir.rows.Routes, func(r *Route) string { return r.ID }))
	return nil, false
}

// unknown says that a row refers to what is not there, and what is.
func (f *findings) unknown(where, id, what, place, known string) {
	if known == "" {
		f.add(where, "there is no %s %s%s: enter the %s first", what, quoted(id), place, what)
		return
	}
	f.add(where, "there is no %s %s%s: expected one of %s, or enter the %s first", what, quoted(id), place, known, what)
}

// names lists the first few ids for a message.
func names[T any](all []T, id func(T) string) string {
	const most = 12
	var list []string
	for i, one := range all {
		if i == most {
			list = append(list, "…")
			break
		}
		list = append(list, id(one))
	}
	return strings.Join(list, ", ")
}

// zoneOrUTC gives the plant's zone, UTC where the plant's own row has a wrong one: that row is refused
// by itself.
func (p *Plant) zoneOrUTC() *time.Location {
	if zone, ok := zones.Load(p.Zone); ok {
		return zone.(*time.Location)
	}
	zone, err := p.Location()
	if err != nil {
		return time.UTC
	}
	zones.Store(p.Zone, zone)
	return zone
}

// zones keeps what has been loaded: time.LoadLocation reads a file each time, and every row asks.
var zones sync.Map
