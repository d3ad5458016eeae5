package inventory

import (
	"math"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// gaugedUsages is what left the tanks between counts of stock by the balance of [Book.Balance]: the fall of stock, plus what
// was received, less what was drawn. Its uncertainty is that of the gaugings and of what moved. Where what came and went is
// not known there is no interval.
func (b *Book) gaugedUsages(notes *notice.List) []Usage {
	l := newLedger(b)
	l.findCounts()
	unreported := b.unreportedDraws()
	var found []Usage
	for i := 1; i < len(l.found); i++ {
		from, to := l.found[i-1], l.found[i]
		bal, in, f, why := l.movements(from, to)
		if why != "" || b.unexplained(from, to) {
			continue
		}
		parts := l.sources(in, run{}, f, &bal)
		sigma := math.Hypot(float64(parts.sum()), l.ungauged(in, DayTank))
		drawn := unreported.between(from.at, to.at)
		found = append(found, Usage{Start: from.at, End: to.at, Litres: bal.withoutBurn() - bal.Physical - units.LitresAt15(drawn),
			Sigma: units.LitresAt15(math.Hypot(sigma, unevenRun*drawn)), Source: KindGauging})
	}
	for _, n := range l.notes {
		if n.Code != codeNotGauged { // the stock says so
			notes.Add(n)
		}
	}
	return found
}

const codeNotGauged = "tank-not-gauged"

// ungauged is the uncertainty that comes of tanks of a role that are filled and emptied all day and were not gauged at both
// counts.
func (l *ledger) ungauged(in stays, role Role) float64 {
	variance := 0.0
	for _, t := range l.book.tanksOf(role) {
		if !in.has(t.ID) {
			variance += square(dayTankSwing * l.book.capacityOf([]*Tank{t}))
		}
	}
	return math.Sqrt(variance)
}

// unexplained tells that what came and went between two counts is not known for one of their tanks.
func (b *Book) unexplained(from, to *stockCount) bool {
	if b.untoldBetween(from.at, to.at) > 0 {
		return true
	}
	for row := range b.runUnknown {
		g, ok := row.(*Gauging)
		if !ok || b.leftOut[g] {
			continue
		}
		first, in := from.held[g.Tank]
		if last, still := to.held[g.Tank]; in && still && g.At.After(first.At) && !g.At.After(last.At) {
			return true
		}
	}
	return false
}

// oddBurn is how many times a plant's usual burn a fall of stock is told of, though it may be burn. Common practice, no source.
const oddBurn = 2.5

// nameOdd raises notices for intervals that no burn explains: below nothing, or far above what is usual where no meter says
// what was burned. One below nothing is not to be relied on.
func (b *Book) nameOdd(u Usage, usual *usualRates, notes *notice.List) Usage {
	days := daysBetween(u.Start, u.End)
	switch {
	case u.Source == KindTotal:
	case float64(u.Litres) < -3*float64(u.Sigma):
		u.Quality = Doubtful
		why := "more fuel is there than the rows tell of: a delivery is missing, or entered too small"
		if u.Source == KindReading {
			why = "the day tanks rose by more than the meters ran: was one filled past them, by hand pump say, and not entered?"
		}
		notes.Add(notice.New(notice.Caution, "usage-negative", b.Plant.ID,
			"from %s to %s the plant would have burned %.0f L, less than nothing: %s", b.day(u.Start), b.day(u.End), float64(u.Litres), why))
	case u.Source == KindGauging && usual != nil:
		r := usual.at(midway(u.Start, u.End))
		beyond := float64(u.Litres) - r.middle*days
		if r.known && float64(u.Litres) > oddBurn*r.middle*days && beyond > 4*float64(u.Sigma) {
			notes.Add(notice.New(notice.Caution, "fall-unusual", b.Plant.ID,
				"from %s to %s the stock fell by %.0f L more than is usual: if the plant did not burn them, look for where they went", b.day(u.Start), b.day(u.End), beyond))
		}
	}
	return u
}

// gaugedRates are the rates that a plant's gauged intervals say. Intervals that say less than three times their own error are
// taken together until they say more.
func gaugedRates(usages []Usage) []rate {
	var rates []rate
	var start time.Time
	litres, variance := 0.0, 0.0
	for i, u := range usages {
		if start.IsZero() || i > 0 && !u.Start.Equal(usages[i-1].End) {
			start, litres, variance = u.Start, 0, 0
		}
		litres, variance = litres+float64(u.Litres), variance+square(float64(u.Sigma))
		if litres > 3*math.Sqrt(variance) {
			rates = append(rates, rate{midway(start, u.End), litres / daysBetween(start, u.End)})
			start, litres, variance = u.End, 0, 0
		}
	}
	return rates
}

// totalShare is the share of a period total that the dips may find more or less, beside their own errors. Common practice, no source.
const totalShare = 0.1

// nameTotals tells of period totals that the dips contradict: the fall of the tanks between the counts nearest to both ends, its part
// before and after them at the same rate.
func (b *Book) nameTotals(found, gauged []Usage, notes *notice.List) {
	for _, t := range found {
		if t.Source != KindTotal {
			continue
		}
		sum, variance := 0.0, 0.0
		first, last := time.Time{}, time.Time{}
		for _, g := range gauged {
			if g.Start.Before(t.Start.Add(-sameDayButOne)) || g.End.After(t.End.Add(sameDayButOne)) || !first.IsZero() && !g.Start.Equal(last) {
				continue
			}
			if first.IsZero() {
				first = g.Start
			}
			last = g.End
			sum, variance = sum+float64(g.Litres), variance+square(float64(g.Sigma))
		}
		if first.IsZero() || gap(first, t.Start) > sameDayButOne || gap(last, t.End) > sameDayButOne {
			continue
		}
		sum *= daysBetween(t.Start, t.End) / daysBetween(first, last)
		if off := sum - float64(t.Litres); math.Abs(off) > totalShare*math.Abs(float64(t.Litres))+3*math.Sqrt(variance) {
			notes.Add(notice.New(notice.Caution, "total-beside-dips", b.Plant.ID,
				"the total from %s says %.0f L, and by the dips %.0f L left the tanks: look for a delivery or a draw that is not entered, or correct one of them",
				b.day(t.Start), float64(t.Litres), sum))
		}
	}
}
