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
	written := b.rows.Deliveries
	b.rows.Deliveries = slices.Clone(written)
	for _, d := range written {
		if at, ok := b.hourByDips(d); ok {
			b.place(d, at) // at once: a rise stands for one delivery, not for the next as well
		}
	}
}

// place puts a delivery at another moment, and keeps the deliveries in order. It is a few places on from where it stood.
func (b *Book) place(d *Delivery, at time.Time) {
	all, compare := b.rows.Deliveries, keyed((*Delivery).compare)
	i, _ := slices.BinarySearchFunc(all, d, compare)
	for all[i] != d {
		i++
	}
	moved := *d
	moved.At = at
	for ; i > 0 && compare(all[i-1], &moved) > 0; i-- {
		all[i] = all[i-1]
	}
	for ; i+1 < len(all) && compare(all[i+1], &moved) < 0; i++ {
		all[i] = all[i+1]
	}
	all[i] = &moved
}

// byDayAlone tells that a delivery stands at noon, as one does that was written down by its day.
func (b *Book) byDayAlone(d *Delivery) bool {
	local := d.At.In(b.Zone)
	return local.Hour() == 12 && local.Minute() == 0 && local.Second() == 0 && local.Nanosecond() == 0
}

// mayHaveCome gives the time within which a delivery may have come.
func (b *Book) mayHaveCome(d *Delivery) (from, to time.Time) {
	if b.byDayAlone(d) {
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
	v := b.litres(d.Measure)
	earliest, latest := b.mayHaveCome(d)
	all := b.stretchesAbout(tank, d, earliest, latest)
	if len(all) < 2 {
		return at, false
	}
	written := slices.IndexFunc(all, func(s dipStretch) bool { return d.At.After(s.from) && !d.At.After(s.to) })
	if written < 0 || !all[written].open && all[written].rose >= v/2 {
		return at, false
	}
	found := -1
	for i, s := range all {
		if i != written && !s.open && s.rose >= v/2 && (found < 0 || s.rose > all[found].rose) {
			found = i
		}
	}
	if newest := all[len(all)-1]; found < 0 && newest.open && !all[written].open && math.Abs(all[written].rose) <= dipMargin*v && gap(d.At, newest.from) <= atOnce {
		found = len(all) - 1
		b.doubts.Add(notice.New(notice.Caution, "delivery-after-dip", b.Plant.ID+" tank "+tank.ID,
			"the newest dip of %s does not have the delivery of that day yet: it is taken to have come after it. Dip again, or correct the delivery", b.day(newest.from)))
	}
	if found < 0 {
		return at, false
	}
	from, to := later(all[found].from, earliest), all[found].to
	if to.After(latest) {
		to = latest
	}
	return midway(from, to), true
}

func (b *Book) litres(m Measure) float64 {
	var ignored notice.List
	return b.at15(m, "", &ignored)
}

// dipStretch is the time from one dip of a tank to the next, with what the tank rose beside all that is known to have left it and
// to have come, one delivery left aside, in litres at 15 °C. The last has no end yet, and nothing is known of its rise.
type dipStretch struct {
	from, to time.Time
	rose     float64
	open     bool
}

// stretchesAbout gives the stretches of a tank that lie about the time within which a delivery may have come.
func (b *Book) stretchesAbout(t *Tank, but *Delivery, earliest, latest time.Time) (all []dipStretch) {
	dips := b.gaugingsOf(t)
	next, _ := slices.BinarySearchFunc(dips, earliest, func(g measuredGauging, at time.Time) int { return g.At.Compare(at) })
	if next == len(dips) || !dips[next].At.Before(latest) {
		return nil // no dip lies in that time
	}
	alone, perDay := len(b.tanksOf(Storage)) == 1, b.usualFall(t)
	for i := max(next, 1); i < len(dips) && dips[i-1].At.Before(latest); i++ {
		from, to := dips[i-1].At, dips[i].At
		out := b.movedOut(t.ID, from, to)
		left := perDay*daysBetween(from, to) + out
		if run, known := b.ranBetween(from, to); known && alone {
			left = math.Max(run, out) // what is passed on is burned later, not besides
		}
		left -= b.movedIn(t.ID, from, to)
		for _, d := range b.deliveriesWithin(from, to) {
			if d != but && (d.Tank == t.ID || d.Tank == "" && alone) && b.brings(d) {
				left -= b.litres(d.Measure)
			}
		}
		all = append(all, dipStretch{from: from, to: to, rose: dips[i].fuel() - dips[i-1].fuel() + left})
	}
	if last := dips[len(dips)-1].At; last.Before(latest) {
		all = append(all, dipStretch{from: last, to: b.close().Add(24 * time.Hour), open: true})
	}
	return all
}

// atOnce is how far apart two rows may be that were written down for one moment. Common practice, no source.
const atOnce = 30 * time.Minute

// usualFall is what a storage tank usually loses in a day beside what is moved out of it, in litres at 15 °C, by its own dips, found
// once.
func (b *Book) usualFall(t *Tank) float64 {
	if fall, known := b.usualFalls[t.ID]; known {
		return fall
	}
	var falls []float64
	dips, moved, next := b.gaugingsOf(t), b.rows.Transfers, 0
	for i := 1; i < len(dips); i++ {
		fell := dips[i-1].fuel() - dips[i].fuel()
		for ; next < len(moved) && !moved[next].At.After(dips[i].At); next++ {
			if m := moved[next]; m.From == t.ID && m.At.After(dips[i-1].At) {
				fell -= b.litres(m.Measure)
			}
		}
		if fell > 0 {
			falls = append(falls, fell/daysBetween(dips[i-1].At, dips[i].At))
		}
	}
	b.usualFalls[t.ID] = median(falls)
	return b.usualFalls[t.ID]
}

// carryWater takes the water of a tank's last gauging to be there still where a later one did not look for it: what was not
// sought is not nothing, and water is no fuel.
func (b *Book) carryWater() {
	found := map[string]*Gauging{}
	var carried []*Gauging
	for i, g := range b.rows.Gaugings {
		switch last := found[g.Tank]; {
		case g.Water != nil:
			found[g.Tank] = g
		case g.Volume != nil || last == nil || *last.Water == 0:
		case g.Depth != nil && *g.Depth <= *last.Water || b.emptiedBetween(g.Tank, last.At, g.At):
			delete(found, g.Tank)
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

// emptiedBetween tells whether a tank came back into service, or was given to another product, between two moments.
func (b *Book) emptiedBetween(tank string, from, to time.Time) bool {
	t := b.held.tank(tank)
	return t != nil && anyWithin(b.resets(t), from.Add(sameRound), to.Add(-sameRound))
}

// waterKnown is for how long water that was once found is sure to be there. Common practice, no source.
const waterKnown = 60 * 24 * time.Hour

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
			severity := notice.Info
			if g.At.Sub(last.At) > waterKnown {
				severity = notice.Caution
			}
			b.doubts.Add(notice.New(severity, "water-carried", b.Plant.ID+" tank "+g.Tank,
				"water was not looked for on %s: the %s of %s are taken to stand there still", b.day(g.At), amount(float64(*last.Water), "mm"), b.day(last.At)))
		}
	}
}
