package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// nearDips is how far from a delivery its dips before and after may lie. Common practice, no source.
const nearDips = 48 * time.Hour

// dipped is a delivery by the gaugings of the tanks that it went into: what they rose from the last gauging before to the
// first after, and what left them meanwhile.
func (l *ledger) dipped(rows []*Delivery) Figure {
	var in stays
	for _, d := range rows {
		if d.Tank == "" {
			return Figure{Why: "the tank of a row is not stated"}
		}
		if in.has(d.Tank) {
			continue
		}
		one, ok := l.aroundDelivery(d.Tank, rows)
		if !ok {
			return Figure{Why: "tank " + d.Tank + " was not gauged within two days before and after"}
		}
		in = append(in, one)
	}
	var f Figure
	var squares float64
	for _, one := range in {
		out, spread, why := l.left(one, rows)
		if why != "" {
			return Figure{Why: why}
		}
		rise := one.to.fuel() - one.from.fuel()
		f.Litres += units.LitresAt15(rise + out)
		squares += square(spread) + square(tanks.TablePrecision*rise) + one.from.ownVariance() + one.to.ownVariance()
	}
	f.Known, f.Sigma = true, units.LitresAt15(math.Sqrt(squares))
	return f
}

// aroundDelivery finds a tank's last gauging before the first row that went into it, and the first after the last.
func (l *ledger) aroundDelivery(tank string, rows []*Delivery) (one stay, ok bool) {
	first, last := time.Time{}, time.Time{}
	for _, d := range rows {
		if d.Tank == tank {
			if first.IsZero() {
				first = d.At
			}
			last = d.At
		}
	}
	all := l.book.gaugings[tank]
	after := slices.IndexFunc(all, func(g measuredGauging) bool { return !g.At.Before(last) })
	before := slices.IndexFunc(all, func(g measuredGauging) bool { return !g.At.Before(first) }) - 1
	if before < 0 || after < 0 {
		return one, false
	}
	one = stay{l.book.held.tank(tank), all[before], all[after]}
	return one, first.Sub(one.from.At) <= nearDips && one.to.At.Sub(last) <= nearDips
}

// left is what left a tank between two gaugings, less what else came in: transfers, other deliveries, and what ran
// through the meters. Where several tanks may have fed the meters, it is taken to be half of it, give or take. Why
// says what is not known.
func (l *ledger) left(one stay, rows []*Delivery) (out, spread float64, why string) {
	b := l.book
	for _, t := range b.rows.Transfers {
		if !one.covers(t.At) {
			continue
		}
		v := b.at15(t.Measure, "transfers", &l.notes)
		switch one.tank.ID {
		case t.From:
			out += v
		case t.To:
			out -= v
		}
	}
	for _, d := range b.rows.Deliveries {
		if d.Tank == one.tank.ID && one.covers(d.At) && !slices.Contains(rows, d) {
			out -= b.at15(d.Measure, "deliveries", &l.notes)
		}
	}
	burn, known := l.burnBetween(one.from.At, one.to.At)
	if !known {
		usual, _, ok := l.usual().between(one.from.At, one.to.At)
		if !ok || !l.usual().settled(one.from.At) {
			return 0, 0, "what was burned between the gaugings of tank " + one.tank.ID + " is not known"
		}
		burn, spread = usual, usualMargin*usual
	}
	if l.feeding(one) > 1 {
		return out + burn/2, math.Hypot(spread, burn/math.Sqrt(12)), ""
	}
	return out + burn, spread, ""
}

// usual is what usually leaves the plant in a day.
func (l *ledger) usual() *outflow { return l.book.flow }

// feeding counts the tanks, but day tanks, that stood while a tank took a delivery.
func (l *ledger) feeding(one stay) int {
	day := calendar.DayOf(one.to.At, l.book.Zone)
	return len(slices.DeleteFunc(l.standing(one.to.At), func(t *Tank) bool { return t.Role == DayTank || !t.Available(day) }))
}

// burnBetween is what ran through the meters of the book's product between two moments, evenly between two readings.
func (l *ledger) burnBetween(from, to time.Time) (litres float64, known bool) {
	for i := range l.meters {
		m := &l.meters[i]
		if from.Before(m.counts[0].at.Add(-sameRound)) || to.After(m.counts[len(m.counts)-1].at.Add(sameRound)) {
			return 0, false
		}
		first, last := m.total(from), m.total(to)
		if first.life != last.life {
			return 0, false
		}
		for _, s := range l.book.burning.stretches(from, to) {
			litres += m.total(s[1]).litres - m.total(s[0]).litres
		}
	}
	return litres, len(l.meters) > 0
}
