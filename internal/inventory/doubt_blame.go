package inventory

import "cmp"

// blameDip tells whether a delivery that is less than the tank rose is right, and one of the two dips around it is not: without
// that dip, from the one before it or to the one after it, the tank rose by what was given. Then the dip is doubted.
func (b *Book) blameDip(d *Delivery, r rise, s span, into []*tankLine) bool {
	if len(into) != 1 || r.given >= r.low {
		return false
	}
	l, before, after, short := into[0], s.before[0], s.after[0], r.likely-r.given
	earlier, later := l.beyond(before, -1), l.beyond(after, 1)
	return earlier != nil && l.agree(earlier, after, d, short) && l.blame(earlier, before, after) ||
		later != nil && l.agree(before, later, d, short) && l.blame(before, after, later)
}

// beyond gives the next gauging before or after one that is not left out, nil for none.
func (l *tankLine) beyond(g *measuredGauging, way int) *measuredGauging {
	at := -1
	for i := range l.gaugings {
		if l.gaugings[i].Gauging == g.Gauging {
			at = i
		}
	}
	for i := at + way; at >= 0 && i >= 0 && i < len(l.gaugings); i += way {
		if !l.leftOut[l.gaugings[i].Gauging] {
			return &l.gaugings[i]
		}
	}
	return nil
}

// agree tells whether a tank rose from one dip to another by what was given, and what was short of it beside a dip in between is not
// short any more: of a delivery that is too small it would be.
func (l *tankLine) agree(from, to *measuredGauging, d *Delivery, short float64) bool {
	r, ok := l.rose(span{[]*measuredGauging{from}, []*measuredGauging{to}}, []*tankLine{l}, d)
	return ok && !r.untold && r.holds(r.given) && r.likely-r.given < short/2
}

// blame doubts a gauging that does not lie where those before and after it, and what came and left, make it likely.
func (l *tankLine) blame(before, g, after *measuredGauging) bool {
	r, ok := l.likely(before, g, after)
	if !ok || r.has(g.fuel()) || l.isConfirmed(g.Gauging) {
		return false
	}
	cause := FallUnexplained
	if g.fuel() > r.high {
		cause = RiseUnexplained
	}
	l.say(g, cmp.Or(l.readingCause(g, r), cause), WholeRow, r.low, r.high)
	return true
}
