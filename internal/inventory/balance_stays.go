package inventory

import (
	"cmp"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// stay is a stretch of time in which a tank is in the balance: from the gauging that began it to the one that
// ended it.
type stay struct {
	tank     *Tank
	from, to measuredGauging
}

func (s stay) covers(at time.Time) bool { return at.After(s.from.At) && !at.After(s.to.At) }

type stays []stay

// rise is what the tanks of a role rose, in litres at 15 °C.
func (s stays) rise(of Role) float64 {
	sum := 0.0
	for _, one := range s {
		if one.tank.Role == of {
			sum += one.to.fuel() - one.from.fuel()
		}
	}
	return sum
}

// covering finds the stay of a tank at a moment, nil if the tank is not in the balance then.
func (s stays) covering(tank string, at time.Time) *stay {
	for i := range s {
		if s[i].tank.ID == tank && s[i].covers(at) {
			return &s[i]
		}
	}
	return nil
}

// has tells whether a tank is in the balance at any time.
func (s stays) has(tank string) bool {
	return slices.ContainsFunc(s, func(one stay) bool { return one.tank.ID == tank })
}

// bulk tells whether there is any tank but day tanks.
func (s stays) bulk() bool {
	return slices.ContainsFunc(s, func(one stay) bool { return one.tank.Role != DayTank })
}

// turn is a moment at which a tank comes into the balance or leaves it.
type turn struct {
	at        time.Time
	byProduct bool
}

// stays finds when each tank is in the balance, and fills in opening, physical and what came in or left with a tank. Why
// says what was not gauged when it had to be.
func (l *ledger) stays(from, to *stockCount, bal *Balance) (all stays, why string) {
	for _, t := range l.book.Tanks {
		of, missing := l.staysOf(t, from, to, bal)
		all, why = append(all, of...), cmp.Or(why, missing)
	}
	return all, why
}

func (l *ledger) staysOf(t *Tank, from, to *stockCount, bal *Balance) (all stays, why string) {
	start, in := from.held[t.ID]
	end, still := to.held[t.ID]
	if !l.tracked(t) && !(in && still) {
		return nil, "" // its fuel is in the balance at both ends or at none
	}
	if why := l.unseen(t, from.at, to.at); why != "" {
		return nil, why
	}
	if all := l.book.gaugingsOf(t); !in && still && all[0].At.After(to.at) && end.Gauging == all[0].Gauging {
		return nil, "" // it came in with the next count
	}
	if in {
		bal.Opening += units.LitresAt15(start.fuel())
	}
	for _, turn := range l.turns(t, from.at, to.at) {
		if in && turn.at.Equal(start.At) { // its first gauging is that of the opening count
			continue
		}
		g, ok := l.gaugedAt(t, turn)
		if !ok {
			return all, "tank " + t.ID + " was not gauged when its product or its service changed on " + l.book.day(turn.at)
		}
		entered := units.LitresAt15(g.fuel())
		if in {
			all, entered = append(all, stay{t, start, g}), -entered
		}
		if turn.byProduct {
			bal.Changed += entered
		} else {
			bal.OutOfService -= entered
		}
		start, in = g, !in
	}
	if still {
		bal.Physical += units.LitresAt15(end.fuel())
	}
	switch {
	case in && still:
		all = append(all, stay{t, start, end})
	case in || still:
		return all, "tank " + t.ID + " was gauged at one end only"
	}
	return all, ""
}

// unseen says why what a storage tank held before its first gauging is not known: a tank that is new is found empty, or was
// filled before it was gauged.
func (l *ledger) unseen(t *Tank, from, to time.Time) string {
	b := l.book
	all := b.gaugingsOf(t)
	if t.Role != Storage || len(all) == 0 || !l.stoodBefore(t, all[0].At, from, to) {
		return ""
	}
	first := all[0]
	filled := slices.ContainsFunc(b.rows.Deliveries, func(d *Delivery) bool { return d.Tank == t.ID && !d.At.After(first.At) }) ||
		slices.ContainsFunc(b.rows.Transfers, func(x *Transfer) bool { return x.To == t.ID && !x.At.After(first.At) })
	if filled || first.fuel() <= GaugingRise*float64(b.measured[t.ID].SafeFill) {
		return ""
	}
	return "tank " + t.ID + " was first gauged on " + b.day(first.At) + ": what it held before is not known"
}

// stoodBefore tells whether a tank stood between two counts more than half a day before it was first gauged: at the one, or since it
// came back into service or was given the product.
func (l *ledger) stoodBefore(t *Tank, first, from, to time.Time) bool {
	b := l.book
	since := []time.Time{from}
	for _, c := range b.held.changes[t.ID] {
		since = append(since, c.At)
	}
	if t.BackOn != nil {
		since = append(since, b.start(*t.BackOn).Add(sameDay)) // on some hour of that day
	}
	return slices.ContainsFunc(since, func(at time.Time) bool {
		return !at.Before(from) && !at.After(to) && first.After(at.Add(sameDay)) && b.holds(t, at) && t.Available(calendar.DayOf(at, b.Zone))
	})
}

// turns are the moments between two counts at which a tank changes between counted and not counted.
func (l *ledger) turns(t *Tank, after, until time.Time) []turn {
	b := l.book
	var found []turn
	for _, c := range b.held.changes[t.ID] {
		found = append(found, turn{c.At, true})
	}
	for _, day := range []*calendar.Day{t.OutFrom, t.BackOn} {
		if day != nil {
			start, _ := day.Bounds(b.Zone)
			found = append(found, turn{start, false})
		}
	}
	slices.SortFunc(found, func(x, y turn) int { return x.at.Compare(y.at) })
	var first time.Time
	if all := b.gaugingsOf(t); len(all) > 0 {
		first = all[0].At
		found = append(found, turn{first, false})
	}
	in := func(at time.Time) bool {
		return b.holds(t, at) && t.Available(calendar.DayOf(at, b.Zone)) && !at.Before(first)
	}
	return slices.DeleteFunc(found, func(x turn) bool {
		return !x.at.After(after) || x.at.After(until) || in(x.at) == in(x.at.Add(-time.Millisecond))
	})
}

// gaugedAt finds what a tank held at a turn: by the gauging nearest to it, and for a tank out of service, in which
// nothing moves, by any gauging from the time that it was out.
func (l *ledger) gaugedAt(t *Tank, turn turn) (g measuredGauging, ok bool) {
	if g, ok := l.book.gaugingAround(t, turn.at, sameDay); ok || turn.byProduct {
		return g, ok
	}
	all := l.book.gaugingsOf(t)
	idle := slices.DeleteFunc(slices.Clone(all), func(g measuredGauging) bool {
		return t.Available(calendar.DayOf(g.At, l.book.Zone))
	})
	if len(idle) == 0 {
		return g, false
	}
	return idle[nearestTo(idle, turn.at, func(g measuredGauging) time.Time { return g.At })], true
}
