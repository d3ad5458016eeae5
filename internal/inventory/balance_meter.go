package inventory

import "time"

// run is what the meters ran between two counts, in litres at 15 °C.
type run struct {
	litres  float64
	squares float64 // of what each meter ran: their errors are their own
	blind   float64 // corrected at a temperature that nobody read
	guess   float64 // variance of totals that were not read in the rounds of the counts
}

// metered sums what ran through the meters into the day tanks of the book's product. Why says why that is not known.
func (l *ledger) metered(from, to time.Time) (r run, why string) {
	if l.book.burning.stretches(from, to) == nil {
		return r, "no meter measures what is burned of this product: the consumption is derived from the stock"
	}
	if len(l.meters) == 0 {
		return r, "without a meter the consumption is derived from the stock, and a variance would say nothing"
	}
	for i := range l.meters {
		one, ok := l.ran(&l.meters[i], from, to)
		if !ok {
			return run{}, "what ran through meter " + l.meters[i].meter.ID + " is not known for all of the time"
		}
		r.litres, r.blind = r.litres+one.litres, r.blind+one.blind
		r.squares += square(one.litres)
		r.guess += one.guess
	}
	return r, ""
}

// ran is what one meter ran between two counts; ok is false where its life ended in between, or began unseen.
func (l *ledger) ran(m *metered, from, to time.Time) (r run, ok bool) {
	start, okStart := m.at(from)
	end, okEnd := m.at(to)
	switch {
	case !okStart || !okEnd:
		return r, false
	case end == nil && start == nil:
		return r, true
	case start == nil && end != nil && end.life == 0 && m.counts[0].new:
		start = &m.counts[0]
	case end == nil || start == nil || end.life != start.life:
		return r, false
	}
	r.guess = square(start.guess) + square(end.guess)
	for _, s := range l.book.burning.stretches(from, to) {
		first, last := m.total(s[0]), m.total(s[1])
		r.litres += last.litres - first.litres
		r.blind += last.blind - first.blind
	}
	return r, true
}

// total is the meter's total at a moment: between two readings of one life it runs evenly. Counts and readings of one
// round lie hours apart at most, and so does a change of product from the round in which it was made.
func (m *metered) total(at time.Time) count {
	i := nearestTo(m.counts, at, func(c count) time.Time { return c.at })
	near := m.counts[i]
	other := i - 1
	if near.at.Before(at) {
		other = i + 1
	}
	if near.at.Equal(at) || other < 0 || other == len(m.counts) || m.counts[other].life != near.life {
		return near
	}
	next := m.counts[other]
	share := at.Sub(near.at).Hours() / next.at.Sub(near.at).Hours()
	return count{at: at, litres: near.litres + share*(next.litres-near.litres), blind: near.blind + share*(next.blind-near.blind), life: near.life}
}
