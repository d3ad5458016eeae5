package intake

import (
	"context"
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Comparison is a round beside what was read before it.
type Comparison struct {
	Meters  map[string]Passed // what went through each meter since it was read before
	Plant   *Passed           // what the plant burned; nil where not every meter in use was read
	Usual   *Usual            // nil where no advice says what is usual, or it is of another season
	Notices notice.List
}

// Passed is fuel that went by between two readings.
type Passed struct {
	Since  time.Time
	Days   float64 // on the plant's clocks
	Litres units.LitresAt15
	Sigma  units.LitresAt15 // standard uncertainty: where a day tank was not gauged, what it may have taken
}

// PerDay is the mean rate.
func (p Passed) PerDay() units.LitresAt15 { return p.Litres / units.LitresAt15(p.Days) }

// Usual is the range that nine days in ten burn, in litres at 15 °C.
type Usual struct{ Low, High units.LitresAt15 }

// usualFor is how far from the day of the advice its range of a day's burn holds: the season moves on.
const usualFor = 30

// sameRound is how far apart readings may lie and still be of one round.
const sameRound = 3 * time.Hour

func (h *held) compare(ctx context.Context) Comparison {
	c := Comparison{Meters: map[string]Passed{}, Usual: h.usual(ctx), Notices: h.doubts(ctx)}
	rows := h.together()
	for _, r := range h.rows.Readings {
		m := h.dir.Meter(h.Plant, r.Meter)
		if m == nil || r.Void {
			continue
		}
		alone := inventory.NewDirectory(inventory.Rows{Plants: []*inventory.Plant{h.plant}, Meters: []*inventory.Meter{m}})
		if p := h.passed(alone, inventory.Rows{Readings: rows.Readings, Swaps: rows.Swaps}); p != nil {
			c.Meters[r.Meter] = *p
		}
	}
	c.Plant = h.burned(rows)
	return c
}

// burned is what the plant burned up to the sheet's moment; nil where its meters do not say.
func (h *held) burned(rows inventory.Rows) *Passed {
	if len(h.rows.Readings) == 0 {
		return nil
	}
	return h.passed(h.dir, rows)
}

// passed is the metered usage interval that ends with the sheet's moment, as the book finds it: over
// rollovers and swaps, at 15 °C, less what went into the day tanks.
func (h *held) passed(dir *inventory.Directory, rows inventory.Rows) *Passed {
	for _, r := range h.rows.Readings { // what it would mean is shown whether it looks wrong or not
		rows.Confirmations = append(rows.Confirmations, &inventory.Confirmation{Plant: h.Plant, Of: r.Kind(), Row: r.Key})
	}
	book, err := inventory.NewBook(dir, h.Plant, rows, calendar.DayOf(h.at, h.zone()))
	if err != nil {
		return nil // a plant whose tanks cannot be reckoned with is named where it is advised
	}
	usages, _ := book.PlantUsages()
	var last *Passed
	nearest := sameRound
	for _, u := range usages {
		if off := u.End.Sub(h.at).Abs(); u.Source == inventory.KindReading && off <= nearest {
			nearest = off
			days := calendar.Fraction(u.End, book.Zone) - calendar.Fraction(u.Start, book.Zone)
			last = &Passed{Since: u.Start, Days: days, Litres: u.Litres, Sigma: u.Sigma}
		}
	}
	return last
}

// usual gives the range of a usual day around the sheet's moment.
func (h *held) usual(ctx context.Context) *Usual {
	a := h.advice(ctx)
	if a == nil || a.Burn == nil || math.Abs(float64(a.AsOf-calendar.DayOf(h.at, h.zone()))) > usualFor {
		return nil
	}
	return &Usual{units.LitresAt15(a.Burn.UsualLow), units.LitresAt15(a.Burn.UsualHigh)}
}
