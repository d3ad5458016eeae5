package intake

import (
	"context"
	"fmt"
	"math"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Codes of the notices that a report may raise beside those of its rows.
const (
	CodeReadAgain       = "read-again"     // the same meter or tank at the same moment, in another report
	CodeOtherReplaced   = "other-replaced" // a row of another meter or tank is replaced
	CodeLongAgo         = "long-ago"
	CodeBurnUnusual     = "burn-unusual" // more or less than nine days in ten burn
	CodeStockRose       = "stock-rose"   // a storage tank holds more, and nothing came in
	CodeNoRoom          = "delivery-no-room"
	CodeOrderUnknown    = "order-unknown" // a delivery names an order that is not there
	CodeOrderStillOpen  = "order-still-open"
	CodeOrderNotOpen    = "order-not-open"    // a delivery names an order that was cancelled
	CodeOrderNotCleared = "order-not-cleared" // it goes on, and a clearance is not given
)

// atOnce is how far apart two readings of one meter lie that are taken for one.
const atOnce = 10 * time.Minute

// doubts gives what looks wrong about the sheet's rows. They are kept all the same.
func (h *held) doubts(ctx context.Context) notice.List {
	var notes notice.List
	for r := range h.rows.All() {
		if c, ok := r.(doubting); ok && !r.Base().Void {
			notes.Add(c.Doubts(h.dir)...)
		}
	}
	for _, r := range h.rows.Readings {
		if !r.Void {
			h.readingDoubts(r, &notes)
		}
	}
	for _, g := range h.rows.Gaugings {
		if !g.Void {
			h.gaugingDoubts(g, &notes)
		}
	}
	for _, d := range h.rows.Deliveries {
		h.roomDoubts(ctx, d, &notes)
		h.orderDoubts(d, &notes)
	}
	h.burnDoubts(ctx, &notes)
	h.fallDoubts(ctx, &notes)
	h.dateDoubts(&notes)
	return notes
}

// dateDoubts asks about a report of long ago: it is as often a slip in the date.
func (h *held) dateDoubts(notes *notice.List) {
	if h.now.Sub(h.at) > lookBack {
		notes.Add(notice.New(notice.Caution, CodeLongAgo, "at",
			"it is dated %s, %.0f days ago: check the date", h.at.In(h.zone()).Format("2 Jan 2006"), h.now.Sub(h.at).Hours()/24))
	}
}

func (h *held) readingDoubts(r *inventory.MeterReading, notes *notice.List) {
	subject := "meter " + r.Meter
	for _, o := range h.recent.Readings {
		if o.Key == r.Replaces && o.Meter != r.Meter {
			notes.Add(otherReplaced(subject, "meter "+o.Meter, h.local(o.At), amount(o.Register, "counts")))
		}
	}
	var same []*inventory.MeterReading
	for _, o := range others(h, h.recent.Readings) {
		if o.Meter == r.Meter {
			same = append(same, o)
		}
	}
	near := neighbours(same, r.At, func(o *inventory.MeterReading) time.Time { return o.At })
	for _, o := range near {
		if o.At.Sub(r.At).Abs() <= atOnce {
			notes.Add(readAgain(subject, h.local(o.At), amount(o.Register, "counts")))
		}
	}
	notes.Add(inventory.BackwardMeters(append(near, r), h.recent.Swaps, h.dir)...)
}

func readAgain(subject, when, what string) notice.Notice {
	return notice.New(notice.Caution, CodeReadAgain, subject,
		"%s was entered for %s already, as %s: both are kept. If one of the two is wrong, correct it", subject, when, what)
}

// otherReplaced asks whether a value that was entered for one meter or tank is meant for another.
func otherReplaced(subject, other, when, what string) notice.Notice {
	return notice.New(notice.Caution, CodeOtherReplaced, subject,
		"it takes the place of what was entered for %s, %s of %s, which then has no value of that moment: if that is not meant, withdraw this value and enter it anew",
		other, what, when)
}

func (h *held) gaugingDoubts(g *inventory.Gauging, notes *notice.List) {
	subject := "tank " + g.Tank
	for _, o := range h.recent.Gaugings {
		if o.Key == g.Replaces && o.Tank != g.Tank {
			notes.Add(otherReplaced(subject, "tank "+o.Tank, h.local(o.At), read(o)))
		}
	}
	var same []*inventory.Gauging
	for _, o := range others(h, h.recent.Gaugings) {
		if o.Tank == g.Tank {
			same = append(same, o)
		}
	}
	for _, o := range neighbours(same, g.At, func(o *inventory.Gauging) time.Time { return o.At }) {
		switch {
		case o.At.Sub(g.At).Abs() <= atOnce:
			notes.Add(readAgain(subject, h.local(o.At), read(o)))
		case o.At.Before(g.At):
			h.riseDoubts(o, g, notes)
		}
	}
}

// read writes what a gauge or a dip showed.
func read(g *inventory.Gauging) string {
	if g.Depth != nil {
		return amount(float64(*g.Depth), "mm")
	}
	if g.Ullage != nil {
		return amount(float64(*g.Ullage), "mm") + " of ullage"
	}
	return amount(float64(*g.Volume), "L")
}

// rise is the share of a tank's safe fill by which it may seem to have risen; common practice, no source.
const rise = 0.01

// riseDoubts asks where the fuel came from by which a storage tank rose. Other tanks are filled from it,
// day in, day out.
func (h *held) riseDoubts(before, now *inventory.Gauging, notes *notice.List) {
	t := h.dir.Tank(h.Plant, now.Tank)
	if t == nil || t.Role != inventory.Storage || h.cameInto(t.ID, before.At, now.At) {
		return
	}
	then, ok := h.content(t, before)
	after, ok2 := h.content(t, now)
	m, err := t.Measured()
	if !ok || !ok2 || err != nil {
		return
	}
	up := float64(after.UsableAt15 + after.Below - then.UsableAt15 - then.Below)
	if up > rise*float64(m.SafeFill)+3*math.Hypot(float64(after.Sigma), float64(then.Sigma)) {
		notes.Add(notice.New(notice.Caution, CodeStockRose, "tank "+t.ID,
			"tank %s holds %s more than on %s, and nothing that came into it is entered: check the reading, or enter the delivery or transfer",
			t.ID, amount(up, "L"), h.local(before.At)))
	}
}

// cameInto tells whether fuel came into a tank in a stretch of time.
func (h *held) cameInto(tank string, after, until time.Time) bool {
	inside := func(at time.Time) bool { return at.After(after.Add(-sameRound)) && !at.After(until.Add(sameRound)) }
	for _, d := range h.recent.Deliveries {
		if (d.Tank == tank || d.Tank == "") && inside(d.At) {
			return true
		}
	}
	for _, t := range h.recent.Transfers {
		if t.To == tank && inside(t.At) {
			return true
		}
	}
	return false
}

// margin is how many standard uncertainties of the metered burn are allowed beyond a usual day.
const margin = 2

// burnDoubts holds what the plant burned since the round before against a usual day.
func (h *held) burnDoubts(ctx context.Context, notes *notice.List) {
	usual, burned := h.usual(ctx), h.burned(h.together())
	if usual == nil || burned == nil {
		return
	}
	side := ""
	spare := units.LitresAt15(margin / burned.Days * float64(burned.Sigma))
	switch rate := burned.PerDay(); {
	case rate > usual.High+spare:
		side = "more"
	case rate < usual.Low-spare:
		side = "less"
	default:
		return
	}
	notes.Add(notice.New(notice.Caution, CodeBurnUnusual, "meters",
		"%s burned since %s, %s a day: %s than usual (%s to %s a day). Check the registers; if they are right, keep them",
		amount(float64(burned.Litres), "L"), h.local(burned.Since), amount(float64(burned.PerDay()), "L"), side,
		amount(float64(usual.Low), "L"), amount(float64(usual.High), "L")))
}

// amount writes a number with its unit, whole, thousands set apart by narrow spaces.
func amount[T ~float64](value T, unit string) string {
	text := fmt.Sprintf("%.0f", math.Abs(float64(value)))
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "\u202f" + text[i:]
	}
	if value <= -0.5 {
		text = "−" + text
	}
	return text + " " + unit
}

// litres corrects a stated volume to 15 °C.
func (h *held) litres(m inventory.Measure) units.LitresAt15 {
	book, err := inventory.NewBook(h.dir, h.Plant, inventory.Rows{}, 0)
	if err != nil {
		return units.LitresAt15(m.Volume)
	}
	v, _, err := book.At15(m)
	if err != nil {
		return units.LitresAt15(m.Volume)
	}
	return v
}
