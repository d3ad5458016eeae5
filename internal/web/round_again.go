package web

import (
	"github.com/labstack/echo/v4"

	"overwinter/internal/intake"
)

// formOf lays out the form of a round that is written, with its values in it, beside what was read before
// that round.
func (s *Site) formOf(c echo.Context, r *rounding, old intake.Round) (*roundForm, error) {
	own, volumes := map[string]bool{}, map[string]bool{}
	for _, m := range old.Meters {
		own[intake.RoundRow(old.Report, m.Meter)] = true
	}
	for _, t := range old.Tanks {
		own[intake.RoundRow(old.Report, t.Tank)] = true
		volumes[t.Tank] = t.Volume != nil
	}
	f, err := s.form(c, r, old.At, own, volumes)
	if err != nil {
		return nil, err
	}
	f.enter(old)
	return f, nil
}

// enter fills the form with a round as it was written, to be corrected.
func (f *roundForm) enter(old intake.Round) {
	meters := map[string]intake.MeterEntry{}
	for _, m := range old.Meters {
		meters[m.Meter] = m
	}
	for _, g := range f.Meters {
		if m, ok := meters[g.id]; ok {
			g.Replaces = intake.RoundRow(old.Report, g.id)
			g.set("register", &m.Register)
			g.set("temperature", stored(m.Temperature))
		}
	}
	tanks := map[string]intake.TankEntry{}
	for _, t := range old.Tanks {
		tanks[t.Tank] = t
	}
	for _, g := range f.Tanks {
		if t, ok := tanks[g.id]; ok {
			g.Replaces = intake.RoundRow(old.Report, g.id)
			g.set("depth", stored(t.Depth))
			g.set("volume", stored(t.Volume))
			g.set("water", stored(t.Water))
			g.set("temperature", stored(t.Temperature))
		}
	}
}

// set puts a stored value into a question, as it would be typed.
func (g *roundGroup) set(column string, value *float64) {
	if q := g.field(column); q != nil && value != nil {
		q.Value, q.stored = typed(q.scale, *value), value
	}
}
