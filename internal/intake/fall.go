package intake

import (
	"context"
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// CodeStockFell is the notice that a plant's tanks hold much less than burn and deliveries explain.
const CodeStockFell = "stock-fell"

// fallTimes is how many usual days' burn a day's fall may be before it is asked about: fuel for heat and
// vehicles leaves the tanks as well, and is often entered later. Common practice, no source.
const fallTimes = 2

// swing is what a plant's tanks held at two rounds, at 15 °C.
type swing struct {
	before, now float64
	variance    float64
	safeFill    float64
	elsewhere   float64              // what the tanks hold at most that fuel is fed through and that were not gauged
	gauged      map[string]time.Time // when each of the tanks was gauged before
	since       time.Time            // the first of those moments
	last        time.Time            // and the last
}

// fallDoubts asks about fuel that is gone: a leak, a theft, or a dip misread. Fuel moves between a plant's
// own tanks, so where one of them was not gauged, the fall may be as much more as all of those hold.
func (h *held) fallDoubts(ctx context.Context, notes *notice.List) {
	usual, s := h.usual(ctx), h.swing()
	if usual == nil || s == nil {
		return
	}
	days := h.at.Sub(s.since).Hours() / 24
	fall := s.before + h.received(s) - s.now
	spare := rise*s.safeFill + 3*math.Sqrt(s.variance) + s.elsewhere
	if fall <= fallTimes*float64(usual.High)*days+spare {
		return
	}
	notes.Add(notice.New(notice.Caution, CodeStockFell, "tanks",
		"the tanks that were gauged hold %s less than on %s, and %s a day is the most that is usual. Check the dips; if they are right, look for a leak, and for a draw or a transfer that is not entered",
		amount(fall, "L"), h.local(s.since), amount(float64(usual.High), "L")))
}

// swing measures the tanks at the sheet's round and at the round before; nil where no storage tank was gauged
// at both.
func (h *held) swing() *swing {
	s, storage := &swing{since: h.at, gauged: map[string]time.Time{}}, false
	for _, t := range h.dir.TanksOf(h.Plant) {
		if t.Role == inventory.DayTank || t.Product != h.plant.Product || !t.Available(calendar.DayOf(h.at, h.zone())) {
			continue
		}
		now, before := h.gauged(t.ID)
		both := now != nil && before != nil && s.add(h, t, before, now)
		switch m, err := t.Measured(); {
		case both:
			storage = storage || t.Role == inventory.Storage
		case err == nil && t.Role == inventory.Intermediate:
			s.elsewhere += float64(m.SafeFill)
		}
	}
	if !storage || !s.since.Before(h.at) {
		return nil
	}
	return s
}

func (s *swing) add(h *held, t *inventory.Tank, before, now *inventory.Gauging) bool {
	then, ok := h.content(t, before)
	after, ok2 := h.content(t, now)
	m, err := t.Measured()
	if !ok || !ok2 || err != nil {
		return false
	}
	s.before += float64(then.UsableAt15 + then.Below)
	s.now += float64(after.UsableAt15 + after.Below)
	s.variance += math.Pow(float64(then.Sigma), 2) + math.Pow(float64(after.Sigma), 2)
	s.safeFill += float64(m.SafeFill)
	s.gauged[t.ID] = before.At
	if before.At.Before(s.since) {
		s.since = before.At
	}
	if before.At.After(s.last) {
		s.last = before.At
	}
	return true
}

// gauged gives the sheet's gauging of a tank and the last one before it.
func (h *held) gauged(tank string) (now, before *inventory.Gauging) {
	for _, g := range h.rows.Gaugings {
		if g.Tank == tank && !g.Void {
			now = g
		}
	}
	for _, g := range others(h, h.recent.Gaugings) { // in order of time
		if g.Tank == tank && g.At.Before(h.at.Add(-atOnce)) {
			before = g
		}
	}
	return now, before
}

// received is what was delivered into the tanks of a swing and is not in what they held before, litres at
// 15 °C. A delivery that was split over tanks counts once all of them were gauged without it: else a part of
// it might count twice, and fuel be missed that is there.
func (h *held) received(s *swing) float64 {
	sum := 0.0
	for _, d := range h.recent.Deliveries {
		before, ok := s.gauged[d.Tank]
		if d.Tank == "" {
			before, ok = s.last, true
		}
		if ok && d.At.After(before) && !d.At.After(h.at) {
			sum += float64(h.litres(d.Measure))
		}
	}
	return sum
}
