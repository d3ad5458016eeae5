package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// When dips contradict deliveries. Common practice, no source.
const (
	dipMargin      = 0.12 // that the dips before and after may differ for nothing, as a share
	dipsFar        = 1.6  // times, from which on a difference without a cause is doubted
	dipTolerance   = 0.04 // of a ratio of units against the dips
	dipsReach      = 21 * 24 * time.Hour
	shortly        = 10 * 24 * time.Hour
	burnAllowance  = 1.5 // times the usual burn that may have left meanwhile
	orderTolerance = 0.15
	partTolerance  = 0.05 // of a ratio of units or digits by which less came than was ordered: it may be a part
	oneInSeveral   = 0.03 // share of the rise by which a corrected delivery among others may miss it
)

// deliveryRatios are those against dips, which are good enough to tell imperial gallons from US ones.
var deliveryRatios = append([]ratioCause{
	{units.LitresPerImperialGallon / units.LitresPerUSGallon, UnitsSwitched},
	{units.LitresPerUSGallon / units.LitresPerImperialGallon, UnitsSwitched},
	{units.LitresPerImperialGallon, UnitsSwitched}, {1 / units.LitresPerImperialGallon, UnitsSwitched},
}, volumeRatios...)

// doubtDeliveries holds each delivery into storage against the dips before and after it, the room that there was,
// and its order.
func (b *Book) doubtDeliveries(lines map[string]*tankLine) {
	b.doubtTwice(lines)
	// First those that no tank can hold, so that they do not speak against others.
	for _, tooBig := range []bool{true, false} {
		for _, d := range b.rows.Deliveries {
			into := b.storageOf(d, lines)
			if b.leftOut[d] || !d.At.Before(b.close()) || !b.brings(d) || len(into) == 0 {
				continue
			}
			v, capacity := b.litres(d.Measure), capacityOf(into)
			if tooBig != (v > capacity*(1+dipMargin)) {
				continue
			}
			spoke := b.besideDips(d, v, into, lines) || b.besideOrder(d, v)
			switch {
			case tooBig && !b.leftOut[d]:
				b.doubtDelivery(d, v, BeyondRoom, 0, capacity)
			case !spoke:
				b.besideRoom(d, v, into)
			}
		}
	}
}

// storageOf gives the storage tanks that took a delivery: the named one, or all.
func (b *Book) storageOf(d *Delivery, lines map[string]*tankLine) []*tankLine {
	if d.Tank != "" {
		if l := lines[d.Tank]; l != nil {
			return []*tankLine{l}
		}
		return nil
	}
	var all []*tankLine
	for _, t := range b.tanksOf(Storage) {
		all = append(all, lines[t.ID])
	}
	return all
}

func capacityOf(lines []*tankLine) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += float64(tanks.Capacity(l.measured[l.tank.ID].Shape))
	}
	return sum
}

// besideDips holds a delivery against the nearest dips before and after, and where those are of the hours in which it may have come
// against the next ones too, if there are any: the moment of a delivery is not written down that well. spoke is false where there
// are no dips to say.
func (b *Book) besideDips(d *Delivery, v float64, into []*tankLine, lines map[string]*tankLine) (spoke bool) {
	near, ok := window(d.At, 0, into)
	if !ok {
		return false
	}
	r, ok := b.rose(near, into, d)
	earliest, _ := b.mayHaveCome(d)
	wide, later := window(d.At, d.At.Sub(earliest), into)
	if !later && len(into[0].gaugings) > 0 && into[0].gaugings[0].At.Before(earliest) {
		wide, later = window(d.At, sameRound, into)
	}
	if !later { // the newest dip is of its own hours: only a slip that it tells plainly counts
		if cause := r.contradicts(v); ok && cause != "" && cause != BesideTheDips {
			b.doubtDelivery(d, v, cause, r.low-(r.given-v), r.high-(r.given-v))
		}
		return true
	}
	again, _ := b.rose(wide, into, d)
	if cause := r.contradicts(v); ok && cause != "" && again.contradicts(v) != "" {
		if b.blameDip(d, r, near, into) {
			return true
		}
		b.doubtDelivery(d, v, cause, r.low-(r.given-v), r.high-(r.given-v))
	}
	return true
}

// span is a stretch of time between dips of the tanks that took a delivery, with the dips at its ends.
type span struct{ before, after []*measuredGauging }

func (s *span) from() time.Time { return s.before[0].At }
func (s *span) to() time.Time   { return s.after[0].At }

// window finds the dips around a moment, apart from those nearer than a stretch of time. Those of several tanks have to be of one
// count: what left between the counts left all of them together.
func window(at time.Time, apart time.Duration, into []*tankLine) (s span, ok bool) {
	for _, l := range into {
		next := l.firstAfter(at.Add(-apart))
		before := l.lastStanding(next)
		for next < len(l.gaugings) && l.gaugings[next].At.Before(at.Add(apart)) {
			next++
		}
		after := l.firstStanding(next)
		if before == nil || after == nil {
			return s, false
		}
		if far := at.Sub(before.At) > dipsReach || after.At.Sub(at) > dipsReach; far {
			if _, metered := l.ranBetween(before.At, after.At); !metered {
				return s, false
			}
		}
		s.before, s.after = append(s.before, before), append(s.after, after)
		if gap(before.At, s.from()) > sameDay || gap(after.At, s.to()) > sameDay {
			return s, false
		}
	}
	return s, true
}

// besideRoom holds a delivery without a dip after it against the room at the last one before.
func (b *Book) besideRoom(d *Delivery, v float64, into []*tankLine) {
	room := 0.0
	earliest, _ := b.mayHaveCome(d)
	for _, l := range into {
		g := l.lastBefore(earliest)
		if g == nil || d.At.Sub(g.At) > dipsReach || l.cameBeside(d, g.At, d.At) {
			return
		}
		usual, _, known := l.out.between(g.At, d.At)
		if !known {
			return
		}
		room += capacityOf([]*tankLine{l}) - g.fuel() + burnAllowance*usual + l.buffers + 3*float64(g.content.Sigma)
	}
	if v > (1+dipMargin)*room {
		b.doubtDelivery(d, v, BeyondRoom, 0, room)
	}
}

func (l *tankLine) lastBefore(at time.Time) *measuredGauging { return l.lastStanding(l.firstAfter(at)) }

// firstAfter gives the index of the tank's first gauging after a moment, one past the last where none is.
func (l *tankLine) firstAfter(at time.Time) int {
	return firstAfter(l.gaugings, at, func(g measuredGauging) time.Time { return g.At })
}

// lastStanding gives the last gauging before an index that does not look wrong, and firstStanding the first from it on; nil where
// none is.
func (l *tankLine) lastStanding(before int) *measuredGauging {
	for i := before - 1; i >= 0; i-- {
		if g := &l.gaugings[i]; !l.leftOut[g.Gauging] {
			return g
		}
	}
	return nil
}

func (l *tankLine) firstStanding(from int) *measuredGauging {
	for i := from; i < len(l.gaugings); i++ {
		if g := &l.gaugings[i]; !l.leftOut[g.Gauging] {
			return g
		}
	}
	return nil
}

// cameBeside is anyWithin for the moments at which fuel came into the tank, those of one delivery left aside.
func (l *tankLine) cameBeside(d *Delivery, after, until time.Time) bool {
	own := l.moments(d)
	next, _ := slices.BinarySearchFunc(l.inflows, after.Add(-sameRound), time.Time.Compare)
	for ; next < len(l.inflows) && !l.inflows[next].After(until.Add(sameRound)); next++ {
		if len(own) == 0 || !own[0].Equal(l.inflows[next]) {
			return true
		}
		own = own[1:]
	}
	return false
}

// besideOrder holds what came for an order against it. Only a multiple that units or a digit explain is doubted, since more is
// brought now and then; and of less, which may be a part, only the first that came and one that they explain closely.
func (b *Book) besideOrder(d *Delivery, v float64) (spoke bool) {
	var ignored notice.List
	for _, o := range b.rows.Orders {
		if d.Order == "" || o.ID != d.Order {
			continue
		}
		ordered := b.at15(o.Measure, "", &ignored)
		tolerance := orderTolerance
		if v < ordered {
			tolerance = partTolerance
		}
		cause := closestCause(v/ordered, volumeRatios, tolerance)
		if cause == "" || v < ordered && b.deliveredFor(o, &ignored) > v*(1+sameVolume) {
			return false
		}
		b.doubtDelivery(d, v, cause, math.Min(ordered, v), ordered)
		return true
	}
	return false
}

func (b *Book) doubtDelivery(d *Delivery, v float64, cause Cause, low, high float64) {
	low, high = math.Max(low, 0), math.Max(high, 0)
	if cause == BesideTheDips && b.mistimedBills[d] {
		cause = DeliveryMistimed
	}
	b.doubt(d, Doubt{
		At: d.At, Cause: cause, Found: v, Low: low, High: &high, Unit: "L at 15 °C", Subject: "plant " + b.Plant.ID + ", deliveries",
		Message: "the delivery of " + b.day(d.At) + " is " + figure(math.Round(v)) + " L at 15 °C, expected " + figure(math.Round(low)) + " to " +
			figure(math.Round(high)) + ": " + causeWords[cause] + todo(WholeRow, ""),
	})
}
