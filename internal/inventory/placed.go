package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// placeDeliveries finds on which side of a dip a delivery came whose hour is not to be trusted so far: one that was written down
// by its day alone, which stands at noon, or within a round of the dip. Where the tank did not rise in the stretch between dips
// that the delivery is written down in, and rose in another that it may belong to, it is taken to have come there.
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

// mayHaveCome gives the time within which a delivery may have come.
func (b *Book) mayHaveCome(d *Delivery) (from, to time.Time) {
	if local := d.At.In(b.Zone); local.Hour() == 12 && local.Minute() == 0 && local.Second() == 0 && local.Nanosecond() == 0 {
		return calendar.DayOf(d.At, b.Zone).Bounds(b.Zone)
	}
	return d.At.Add(-sameRound), d.At.Add(sameRound)
}

// hourByDips gives the middle of the stretch between dips in which a delivery came, ok is false where that is the one it was
// written down in, or the dips do not tell.
func (b *Book) hourByDips(d *Delivery) (at time.Time, ok bool) {
	tank := b.held.tank(d.Tank)
	if storage := b.tanksOf(Storage); tank == nil && d.Tank == "" && len(storage) == 1 {
		tank = storage[0]
	}
	if tank == nil || tank.Role != Storage {
		return at, false
	}
	var ignored notice.List
	half := b.at15(d.Measure, "", &ignored) / 2
	dips, perDay := b.gaugingsOf(tank), b.usualFall(tank)
	earliest, latest := b.mayHaveCome(d)
	most, written := half, false
	for i := 1; i <= len(dips); i++ {
		from, to, rose := dips[i-1].At, latest, math.Inf(-1) // of what no dip followed nothing is known
		if i < len(dips) {
			to = dips[i].At
			rose = dips[i].fuel() - dips[i-1].fuel() + perDay*daysBetween(from, to)
		}
		first, last := later(from, earliest), to
		if last.After(latest) {
			last = latest
		}
		here := d.At.After(from) && (!d.At.After(to) || i == len(dips))
		switch {
		case !first.Before(last) && !here:
		case here && (rose >= half || i == len(dips)):
			return at, false
		case here:
			written = true
		case rose > most:
			most, at, ok = rose, first.Add(last.Sub(first)/2), true
		case i == len(dips) && !ok && written && (to.Sub(earliest) > 2*sameRound || gap(d.At, from) <= atOnce): // the newest dip does not have it yet
			at, ok = first.Add(last.Sub(first)/2), true
		}
	}
	return at, ok && written
}

// atOnce is how far apart two rows may be that were written down for one moment. Common practice, no source.
const atOnce = 30 * time.Minute

// usualFall is what a storage tank usually loses in a day, in litres at 15 °C, by its own dips.
func (b *Book) usualFall(t *Tank) float64 {
	var falls []float64
	dips := b.gaugingsOf(t)
	for i := 1; i < len(dips); i++ {
		if fell := dips[i-1].fuel() - dips[i].fuel(); fell > 0 {
			falls = append(falls, fell/daysBetween(dips[i-1].At, dips[i].At))
		}
	}
	return median(falls)
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
