package inventory

import "cmp"

// blameDip tells whether a delivery that is less than the tank rose is right, and one of the two dips around it is not: without
// that dip, from the one before it or to the one after it, the tank rose by what was given. Then the dip is doubted.
func (b *Book) blameDip(d *Delivery, r rise, s span, into []*tankLine) bool {
	if len(into) != 1 || r.given >= r.low {
		return false
	}
	l, before, after, short := into[0], s.before[0], s.after[0], r.likely-r.given
	earlier, later := l.lastStanding(l.indexOf(before)), l.firstStanding(l.indexOf(after)+1)
	return earlier != nil && l.agree(earlier, after, d, short) && l.blame(earlier, before, after) ||
		later != nil && l.agree(before, later, d, short) && l.blame(before, after, later)
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
	if d := l.mistimed(before, g, after, cause); d != nil {
		l.nameMistimed(g, d, WholeRow, r.low, r.high)
		return true
	}
	l.say(g, cmp.Or(l.readingCause(g, r), cause), WholeRow, r.low, r.high)
	return true
}
