package inventory

import (
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
)

// ledger is what the balances of one book are reckoned from.
type ledger struct {
	book   *Book
	notes  notice.List
	meters []metered
	found  []*stockCount
	must   map[*Tank]bool // be gauged for a count: see tracked
	// denser is the same with a fuel that is denser by the uncertainty of its density, nil where no factor goes so far.
	denser *ledger
}

func (b *Book) ledger() *ledger {
	l := b.ledgerOf()
	if fuel, err := tanks.NewCorrector(b.Plant.DensityOf(b.Product) + tanks.DensityPrecision); err == nil {
		l.denser = b.withFuel(fuel).ledgerOf()
	}
	return l
}

func newLedger(b *Book) *ledger { return &ledger{book: b, must: map[*Tank]bool{}} }

func (b *Book) ledgerOf() *ledger {
	l := newLedger(b)
	b.nameShared(&l.notes)
	for _, m := range b.meters {
		if c := b.counts(m, &l.notes); len(c) > 1 || len(c) == 1 && b.doubtsMeter(m) {
			l.meters = append(l.meters, metered{m, c, b.retired(m)})
		}
	}
	l.findCounts()
	return l
}

// withFuel is the book with another density: the same readings measured anew.
func (b *Book) withFuel(fuel tanks.Corrector) *Book {
	other := *b
	other.fuel = fuel
	other.gaugings = map[string][]measuredGauging{}
	for id, all := range b.gaugings {
		for _, g := range all {
			if c, err := b.measured[id].Measure(g.Reading(), fuel, b.Plant.FuelTemperature()); err == nil {
				other.gaugings[id] = append(other.gaugings[id], measuredGauging{g.Gauging, &c})
			}
		}
	}
	return &other
}

// stockCount is a moment at which all storage tanks in service were gauged, and the meters were read where there are any.
// Intermediate and day tanks are in it where they were gauged in the same round.
type stockCount struct {
	at   time.Time
	held map[string]measuredGauging
}

// same is the count of this ledger at the moment of another's.
func (l *ledger) same(c *stockCount) *stockCount {
	i := nearestTo(l.found, c.at, func(c *stockCount) time.Time { return c.at })
	return l.found[i]
}

// findCounts looks for counts around the gaugings of the largest tank.
func (l *ledger) findCounts() {
	b := l.book
	for _, at := range l.anchors() {
		c := &stockCount{at: at, held: map[string]measuredGauging{}}
		if l.countAround(c, at) && l.read(at) {
			l.found = append(l.found, c)
		}
	}
	for _, t := range b.Tanks {
		if b.inService(t, b.AsOf) && b.gaugingsOf(t) == nil {
			l.notes.Add(notice.New(notice.Caution, codeNotGauged, b.Plant.ID+" tank "+t.ID,
				"was never gauged: what it holds is in no balance"))
		}
	}
}

// anchors are the gaugings of the largest tank that is in service on the day; a day tank only where there is no other.
func (l *ledger) anchors() []time.Time {
	b := l.book
	var found []time.Time
	largest := map[time.Time]*Tank{}
	for _, t := range b.Tanks {
		for _, g := range b.gaugingsOf(t) {
			lead, known := largest[g.At]
			if !known {
				lead = b.largest(l.bulk(g.At))
				largest[g.At] = lead
			}
			if lead == t {
				found = append(found, g.At)
			}
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return slices.CompactFunc(found, time.Time.Equal)
}

// standing gives the tanks that hold the product and are in service at a moment, and were ever gauged.
func (l *ledger) standing(at time.Time) []*Tank {
	b := l.book
	day := calendar.DayOf(at, b.Zone)
	return slices.DeleteFunc(slices.Clone(b.Tanks), func(t *Tank) bool {
		return !b.holds(t, at) || !t.Available(day) || !l.gaugedBy(t, at)
	})
}

// gaugedBy tells whether a tank was gauged by a moment, or in its round: before its first gauging it is taken not to stand yet.
func (l *ledger) gaugedBy(t *Tank, at time.Time) bool {
	all := l.book.gaugingsOf(t)
	return len(all) > 0 && !all[0].At.After(at.Add(sameDay))
}

// bulk gives the tanks that make a count at a moment: the tracked ones that stand, or where there is none all others.
func (l *ledger) bulk(at time.Time) []*Tank {
	all := l.standing(at)
	bulk := slices.DeleteFunc(slices.Clone(all), func(t *Tank) bool { return !l.tracked(t) })
	if len(bulk) == 0 && !l.storageToCome(at) {
		return all
	}
	return bulk
}

// tracked tells whether a tank has to be gauged for a count: a storage tank has, and an intermediate one that is gauged often or of
// which it is written down what comes and goes. Another is only passed through.
func (l *ledger) tracked(t *Tank) bool {
	if t.Role != Intermediate {
		return t.Role == Storage
	}
	must, known := l.must[t]
	if !known {
		b := l.book
		must = slices.ContainsFunc(b.rows.Transfers, func(x *Transfer) bool {
			return (x.From == t.ID || x.To == t.ID) && x.At.Before(b.close())
		}) || 3*len(b.gaugingsOf(t)) >= len(b.gaugingsOf(b.largest(b.tanksOf(Storage))))
		l.must[t] = must
	}
	return must
}

// storageToCome tells whether a storage tank is first gauged after a moment.
func (l *ledger) storageToCome(at time.Time) bool {
	return slices.ContainsFunc(l.book.tanksOf(Storage), func(t *Tank) bool {
		return l.book.gaugingsOf(t) != nil && !l.gaugedBy(t, at)
	})
}

// countAround gathers the gaugings of a count; ok is false where a tank was not gauged near enough.
func (l *ledger) countAround(c *stockCount, at time.Time) (ok bool) {
	b := l.book
	bulk := l.bulk(at)
	if len(bulk) == 0 {
		return false
	}
	for _, t := range bulk {
		g, ok := b.gaugingAround(t, at, sameDay)
		if !ok {
			return false
		}
		c.held[t.ID] = g
	}
	for _, t := range l.standing(at) {
		if g, ok := b.gaugingAround(t, at, sameRound); ok && !l.tracked(t) {
			c.held[t.ID] = g
		}
	}
	return true
}

// read tells whether every meter in use was read in the round of a moment; a plant without meters needs no reading.
func (l *ledger) read(at time.Time) bool {
	for i := range l.meters {
		m := &l.meters[i]
		c, ok := m.at(at)
		if !ok || c == nil && !m.counts[0].new && m.counts[0].at.Sub(at) <= readDaily { // it stood there and was not read yet
			return false
		}
	}
	return true
}
