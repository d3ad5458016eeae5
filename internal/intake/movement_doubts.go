package intake

import (
	"context"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// content measures a gauging; ok is false where it cannot be.
func (h *held) content(t *inventory.Tank, g *inventory.Gauging) (c tanks.Content, ok bool) {
	m, err := t.Measured()
	if err != nil {
		return c, false
	}
	fuel, err := tanks.NewCorrector(h.plant.Density())
	if err != nil {
		return c, false
	}
	c, err = m.Measure(g.Reading(), fuel, h.plant.FuelTemperature())
	return c, err == nil
}

// freshFor is how old a gauging may be to say what room there is, where no burn is known to reckon by.
const freshFor = 24 * time.Hour

// roomDoubts holds a delivery against the room that the tanks had when they were last gauged, and what
// was burned since at most.
func (h *held) roomDoubts(ctx context.Context, d *inventory.Delivery, notes *notice.List) {
	room, since, ok := h.room(d)
	if !ok {
		return
	}
	age := d.At.Sub(since)
	if a := h.advice(ctx); a != nil && a.Burn != nil {
		room += units.LitresAt15(a.Burn.UsualHigh * age.Hours() / 24)
	} else if age > freshFor {
		return
	}
	if came := h.litres(d.Measure); came > room {
		notes.Add(notice.New(notice.Caution, CodeNoRoom, "delivery",
			"%s at 15 °C are more than the room of about %s that there was, by the gauging of %s: check the volume, its unit and the tank",
			amount(came, "L"), amount(max(room, 0), "L"), h.local(since)))
	}
}

// room is what the tank that took the delivery, or all storage together, had room for when last gauged;
// ok is false where one of them was not gauged or took another delivery since.
func (h *held) room(d *inventory.Delivery) (room units.LitresAt15, since time.Time, ok bool) {
	for _, t := range h.into(d) {
		g := h.lastGauging(t.ID, d.At)
		if g == nil {
			return 0, since, false
		}
		content, measured := h.content(t, g)
		free, err := h.free(t, content)
		if !measured || err != nil {
			return 0, since, false
		}
		room += free
		if since.IsZero() || g.At.Before(since) {
			since = g.At
		}
	}
	for _, o := range others(h, h.recent.Deliveries) {
		if o.At.After(since) && !o.At.After(d.At) {
			return 0, since, false
		}
	}
	return room, since, !since.IsZero()
}

// into gives the tanks that a delivery may have gone to.
func (h *held) into(d *inventory.Delivery) []*inventory.Tank {
	if t := h.dir.Tank(h.Plant, d.Tank); t != nil {
		return []*inventory.Tank{t}
	}
	var found []*inventory.Tank
	for _, t := range h.dir.TanksOf(h.Plant) {
		if t.Role == inventory.Storage && t.Product == h.plant.Product {
			found = append(found, t)
		}
	}
	return found
}

func (h *held) lastGauging(tank string, before time.Time) *inventory.Gauging {
	var last *inventory.Gauging
	for _, g := range h.recent.Gaugings {
		if g.Tank == tank && g.At.Before(before) && (last == nil || g.At.After(last.At)) {
			last = g
		}
	}
	return last
}

func (h *held) free(t *inventory.Tank, content tanks.Content) (units.LitresAt15, error) {
	m, err := t.Measured()
	if err != nil {
		return 0, err
	}
	fuel, err := tanks.NewCorrector(h.plant.Density())
	if err != nil {
		return 0, err
	}
	return m.Room(content, h.plant.WarmestFuel(), fuel)
}

// orderDoubts looks at the order that a delivery names.
func (h *held) orderDoubts(d *inventory.Delivery, notes *notice.List) {
	if d.Order == "" {
		return
	}
	subject := "order " + d.Order
	switch o := findOrder(h.recent.Orders, d.Order); {
	case o == nil:
		notes.Add(notice.New(notice.Caution, CodeOrderUnknown, subject,
			"there is no order %q at this plant: the delivery counts, and no order is taken as fulfilled by it. Check the order's id, or enter the order", d.Order))
	case o.State == inventory.Cancelled:
		notes.Add(notice.New(notice.Caution, CodeOrderNotOpen, subject,
			"order %s is cancelled, and a delivery names it: check the order's id, or set its state to %s", o.ID, inventory.Received))
	case o.Open():
		notes.Add(notice.New(notice.Info, CodeOrderStillOpen, subject,
			"order %s is still %s, for %s: what came is taken off it. Once all of it has come, set its state to %s",
			o.ID, o.State.Means(), amount(o.Volume, "L"), inventory.Received))
	}
}
