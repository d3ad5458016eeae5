package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
)

// rise is by how much tanks rose from dips to dips, with what usually leaves meanwhile, between what it can have been at
// least and at most, and what all deliveries together gave them.
type rise struct {
	low, likely, high, given float64
	untold                   bool    // one of them looks wrong and is left out: the others cannot be all
	tight                    float64 // by how much the likely rise may be off by the errors of the dips and of the burn
}

// rose reckons a rise, that deliveries are held against; ok is false where it is not known what leaves.
func (b *Book) rose(s span, into []*tankLine, about ...*Delivery) (r rise, ok bool) {
	squares := 0.0
	for i, l := range into {
		before, after := s.before[i], s.after[i]
		from, to := before.At.Add(sameRound), after.At.Add(-sameRound) // what was moved in the rounds themselves may be on either side
		out, in := b.movedOut(l.tank.ID, from, to), b.movedIn(l.tank.ID, before.At, after.At)
		change := after.fuel() - before.fuel() + out - in
		spare, tight := l.spare(before, after), l.tight(before, after)
		if _, metered := l.ranBetween(before.At, after.At); metered {
			spare = tight
		}
		squares += square(tight)
		r.low, r.likely, r.high = r.low+change-spare, r.likely+change, r.high+change+spare
		r.high += b.movedOut(l.tank.ID, before.At, after.At) - out
	}
	least, likely, most, ok := into[0].burned(s.from(), s.to())
	others := len(into[0].sisters) - len(into)
	// What was moved on to tanks that are filled from these was burned out of those, and left these once.
	passed := b.passedOn(into, s)
	likely, most = math.Max(likely-passed, 0), math.Max(most-passed, 0)
	r.tight = math.Sqrt(squares) + math.Min(most-likely, usualMargin*likely)
	if others > 0 { // nobody knows which of the tanks fed the plant
		r.tight += likely / 2
	}
	r.likely += likely / float64(1+others)
	r.high += most + into[0].buffers
	if others == 0 {
		r.low += math.Max(least-passed-into[0].buffers, 0)
	}
	b.give(&r, s, into, about)
	return r, ok
}

// give adds what all deliveries together gave tanks in a stretch of time. Of another than those that it is about nobody may know
// whether it came before or after a dip, or how much of it came into these tanks: then the rise may be all with it or all without.
func (b *Book) give(r *rise, s span, into []*tankLine, about []*Delivery) {
	others := len(into[0].sisters) > len(into)
	for _, d := range b.deliveriesWithin(s.from().Add(-24*time.Hour), s.to().Add(24*time.Hour)) {
		ours := d.Tank == "" || len(into) == 1 && d.Tank == into[0].tank.ID || len(into) > 1 && b.isStorage(d.Tank)
		if !ours || !b.brings(d) {
			continue
		}
		earliest, latest := b.mayHaveCome(d)
		if !latest.After(s.from()) || earliest.After(s.to()) {
			continue
		}
		inside := d.At.After(s.from()) && !d.At.After(s.to())
		sure := slices.Contains(about, d) || earliest.After(s.from()) && !latest.After(s.to()) && !(d.Tank == "" && others)
		v := b.litres(d.Measure)
		switch {
		case b.leftOut[d]:
			r.untold = r.untold || inside && !b.isDuplicate(d)
		case inside:
			r.given += v
			if !sure {
				r.high += v
			}
		case !sure:
			r.low -= v
		}
	}
}

// burned gives what left a plant between two moments, at least and at most: by its meters, or else as usual. Of a draw nobody knows
// on which of its days it was.
func (l *tankLine) burned(from, to time.Time) (least, likely, most float64, ok bool) {
	if run, known := l.ranBetween(from, to); known {
		var ignored notice.List
		return run * (1 - runMargin), run + l.drawn(from, to, &ignored), run*(1+runMargin) + l.drawnWithin(from, to), true
	}
	usual, far, ok := l.out.between(from, to)
	if to.Sub(from) > shortly { // over weeks a load may have grown
		return 0, usual, far, ok
	}
	return 0, usual, burnAllowance * usual, ok
}

// passedOn is what was moved out of tanks into intermediate and day tanks in a stretch of time.
func (b *Book) passedOn(out []*tankLine, s span) (litres float64) {
	for _, t := range b.transfersWithin(s.from(), s.to()) {
		to := b.held.tank(t.To)
		if to == nil || to.Role == Storage {
			continue
		}
		if slices.ContainsFunc(out, func(l *tankLine) bool { return l.tank.ID == t.From }) {
			litres += b.litres(t.Measure)
		}
	}
	return litres
}

func (b *Book) isStorage(id string) bool {
	for _, t := range b.Tanks {
		if t.ID == id {
			return t.Role == Storage
		}
	}
	return false
}

// movedIn sums what was moved into a tank from others in a stretch of time.
func (b *Book) movedIn(tank string, after, until time.Time) float64 {
	var ignored notice.List
	sum := 0.0
	for _, t := range b.transfersWithin(after, until) {
		if t.To == tank {
			sum += b.at15(t.Measure, "", &ignored)
		}
	}
	return sum
}

// holds tells whether the tanks rose as they should with so much given.
func (r rise) holds(given float64) bool {
	return given >= (1-dipMargin)*r.low && given <= (1+dipMargin)*r.high
}

// contradicts finds what is wrong with the litres v of what was given; "" for nothing.
func (r rise) contradicts(v float64) Cause {
	switch {
	case r.holds(r.given), r.untold && r.given < r.low:
		return ""
	case r.given > r.high && v < (r.given-r.high)/2: // another is to blame
		return ""
	case r.high <= 0: // the tanks fell by more than is known to have left: that says nothing against what came
		return ""
	}
	for _, by := range deliveryRatios { // one of several alone
		if right := r.given - v + v/by.ratio; r.given > v && math.Abs(right-r.likely) <= math.Max(oneInSeveral*r.likely, (r.high-r.low)/2) &&
			math.Abs(v-v/by.ratio) > r.high-r.low {
			return by.cause
		}
	}
	if r.likely > 0 {
		tolerance := math.Min(ratioTolerance, math.Max(dipTolerance, (r.high-r.low)/2/r.likely))
		if cause := closestCause(r.given/r.likely, deliveryRatios, tolerance); cause != "" {
			return cause
		}
	}
	if r.given > dipsFar*r.high || r.given < r.low/dipsFar {
		return BesideTheDips
	}
	return ""
}
