package inventory

import (
	"slices"
	"time"
)

// Quality says how far a usage interval can be trusted.
type Quality string

// The qualities, from the best to the worst; of several the worst counts.
const (
	Measured  Quality = "measured"  // metered, or reported as a total
	Derived   Quality = "derived"   // from the stock: the interval knows no more than the gaugings do
	Corrected Quality = "corrected" // a row that it rests on stands for an earlier one
	Doubtful  Quality = "doubtful"  // a movement inside it is left out because it looks wrong
)

// judge gives an interval its quality, and the energy that was generated in the same time.
func (b *Book) judge(u Usage) Usage {
	u.Quality = Measured
	if u.Source == KindGauging {
		u.Quality = Derived
	}
	if b.restsOnCorrection(u) {
		u.Quality = Corrected
	}
	if b.restsOnDoubt(u) {
		u.Quality = Doubtful
	}
	if u.Source == KindReading || u.Source == KindGauging && b.alone(u) {
		u.Energy = b.energy(u.Start, u.End)
	}
	return u
}

// alone tells whether the engines burned nothing but the book's product in an interval: then all that was generated is of it.
func (b *Book) alone(u Usage) bool {
	all, _ := b.burning.all(u.Start, u.End, sameRound)
	return all
}

// restsOnCorrection looks at the readings at both ends and at the movements between.
func (b *Book) restsOnCorrection(u Usage) bool {
	near := func(at time.Time) bool { return gap(at, u.Start) <= sameRound || gap(at, u.End) <= sameRound }
	inside := func(at time.Time) bool { return at.After(u.Start) && !at.After(u.End) }
	switch u.Source {
	case KindTotal:
		return slices.ContainsFunc(b.rows.Totals, func(t *PeriodTotal) bool {
			start, end := b.bounds(t)
			return t.Replaces != "" && start.Equal(u.Start) && end.Equal(u.End)
		})
	case KindGauging:
		counts := func(at time.Time) bool { return gap(at, u.Start) <= sameDay || gap(at, u.End) <= sameDay }
		return slices.ContainsFunc(b.rows.Gaugings, func(g *Gauging) bool { return g.Replaces != "" && counts(g.At) }) ||
			slices.ContainsFunc(b.rows.Draws, func(d *Draw) bool { return d.Replaces != "" && b.overlapsDays(u, d) }) ||
			slices.ContainsFunc(b.rows.Deliveries, func(d *Delivery) bool { return d.Replaces != "" && b.brings(d) && inside(d.At) })
	}
	return slices.ContainsFunc(b.rows.Readings, func(r *MeterReading) bool { return r.Replaces != "" && near(r.At) }) ||
		slices.ContainsFunc(b.rows.Swaps, func(s *MeterSwap) bool { return s.Replaces != "" && inside(s.At) }) ||
		slices.ContainsFunc(b.rows.Gaugings, func(g *Gauging) bool { return g.Replaces != "" && near(g.At) && b.feeds(g.Tank, g.At) }) ||
		slices.ContainsFunc(b.rows.Transfers, func(t *Transfer) bool { return t.Replaces != "" && inside(t.At) && b.pastMeters(t) })
}

// restsOnDoubt tells whether a movement that the interval would count is left out.
func (b *Book) restsOnDoubt(u Usage) bool {
	return slices.ContainsFunc(b.doubtful, func(d Doubt) bool {
		if d.Scope != WholeRow || d.Cause == Duplicate { // the row that a duplicate repeats tells of the fuel
			return false
		}
		inside := d.At.After(u.Start) && !d.At.After(u.End)
		switch row := d.row.(type) {
		case *Delivery:
			return inside && (u.Source == KindReading && b.feeds(row.Tank, row.At) || u.Source == KindGauging && b.brings(row))
		case *Transfer:
			return inside && b.pastMeters(row) && u.Source == KindReading
		case *Draw:
			return u.Source == KindGauging && b.overlapsDays(u, row)
		}
		return false
	})
}

func (b *Book) overlapsDays(u Usage, d *Draw) bool {
	start, _ := d.FirstDay.Bounds(b.Zone)
	_, end := d.LastDay.Bounds(b.Zone)
	return start.Before(u.End) && u.Start.Before(end)
}

// pastMeters tells whether a transfer went into or out of the day tanks.
func (b *Book) pastMeters(t *Transfer) bool { return b.feeds(t.From, t.At) != b.feeds(t.To, t.At) }

// energy is what the energy register ran between two moments, in kWh: nil where it was not read in the round of either
// end, or fell in between. It is never shared out over days.
func (b *Book) energy(from, to time.Time) *float64 {
	first, last := b.registerAt(from), b.registerAt(to)
	if first == nil || last == nil || !last.At.After(first.At) {
		return nil
	}
	before := *first.EnergyRegister
	for _, r := range b.rows.Rounds {
		if r.EnergyRegister == nil || !r.At.After(first.At) || r.At.After(last.At) {
			continue
		}
		if *r.EnergyRegister < before {
			return nil
		}
		before = *r.EnergyRegister
	}
	ran := *last.EnergyRegister - *first.EnergyRegister
	return &ran
}

// registerAt finds the round nearest to a moment in which the energy register was read, nil where it was not.
func (b *Book) registerAt(at time.Time) *Round {
	var found *Round
	for _, r := range b.rows.Rounds {
		if r.EnergyRegister != nil && gap(r.At, at) <= sameRound && (found == nil || gap(r.At, at) < gap(found.At, at)) {
			found = r
		}
	}
	return found
}
