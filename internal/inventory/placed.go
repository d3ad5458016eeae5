package inventory

import (
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// placeDeliveries finds the hour of deliveries that were written down by their day alone, which stand at noon: where dips
// of that day show that the fuel came in another part of it, they are taken to have come there.
func (b *Book) placeDeliveries() {
	var placed []*Delivery
	for i, d := range b.rows.Deliveries {
		at, ok := b.hourByDips(d)
		if !ok {
			continue
		}
		if placed == nil {
			placed = slices.Clone(b.rows.Deliveries)
		}
		moved := *d
		moved.At = at
		placed[i] = &moved
	}
	if placed != nil {
		b.rows.Deliveries = ordered(placed, func(d *Delivery) time.Time { return d.At })
	}
}

// hourByDips finds the part of a delivery's day in which the tank rose most, ok is false where the delivery has an hour of its
// own or no dip says other than noon.
func (b *Book) hourByDips(d *Delivery) (at time.Time, ok bool) {
	day := calendar.DayOf(d.At, b.Zone)
	start, end := day.Bounds(b.Zone)
	if local := d.At.In(b.Zone); local.Hour() != 12 || local.Minute() != 0 || local.Second() != 0 || local.Nanosecond() != 0 {
		return at, false
	}
	tank := b.held.tank(d.Tank)
	if storage := b.tanksOf(Storage); tank == nil && d.Tank == "" && len(storage) == 1 {
		tank = storage[0]
	}
	if tank == nil {
		return at, false
	}
	var ignored notice.List
	most := b.at15(d.Measure, "", &ignored) / 2
	dips := b.gaugingsOf(tank)
	for i := 1; i < len(dips); i++ {
		before, after := &dips[i-1], &dips[i]
		from, to := later(before.At, start), after.At
		if to.After(end) {
			to = end
		}
		if rose := after.fuel() - before.fuel(); from.Before(to) && rose > most {
			most, at, ok = rose, from.Add(to.Sub(from)/2), d.At.Before(before.At) || !d.At.Before(after.At)
		}
	}
	return at, ok
}

// waterStands is how long water that was once found under the fuel is taken to be there still. Common practice, no source.
const waterStands = 366 * 24 * time.Hour

// carryWater takes the water of a tank's last gauging to be there still where a later one did not look for it: what was not
// sought is not nothing, and water is no fuel.
func (b *Book) carryWater() {
	found := map[string]*Gauging{}
	var carried []*Gauging
	for i, g := range b.rows.Gaugings {
		switch last := found[g.Tank]; {
		case g.Water != nil:
			found[g.Tank] = g
		case g.Volume != nil || last == nil || *last.Water == 0 || g.At.Sub(last.At) > waterStands:
		default:
			if carried == nil {
				carried = slices.Clone(b.rows.Gaugings)
			}
			with := *g
			with.Water = last.Water
			if g.Depth != nil {
				with.Water = new(min(*last.Water, *g.Depth))
			}
			carried[i] = &with
		}
	}
	if carried == nil {
		return
	}
	b.nameCarried(carried, found)
	b.rows.Gaugings = carried
}

// nameCarried raises a notice for each tank at whose newest gauging the water was not looked for.
func (b *Book) nameCarried(carried []*Gauging, found map[string]*Gauging) {
	named := map[string]bool{}
	for i := len(carried) - 1; i >= 0; i-- {
		g := carried[i]
		if named[g.Tank] || !g.At.Before(b.close()) {
			continue
		}
		named[g.Tank] = true
		if last := found[g.Tank]; g != b.rows.Gaugings[i] && last != nil && last.At.Before(g.At) {
			b.doubts.Add(notice.New(notice.Info, "water-carried", b.Plant.ID+" tank "+g.Tank,
				"water was not looked for on %s: the %s of %s are taken to stand there still", b.day(g.At), amount(float64(*last.Water), "mm"), b.day(last.At)))
		}
	}
}
