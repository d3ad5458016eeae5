package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// A dip that is off by less than the tank may rise or fall shows where meters know what was burned: the whole
// stock is off by as much on the way to that count as it is on the way from it, the other way round. Common practice, no
// source.
const (
	countSpreads = 6   // robust standard deviations of the plant's own counts that the stock must be off, there and back
	countBack    = 0.3 // share by which the way there and the way back may differ
	fewestCounts = 8   // from which on a plant's own spread is known
)

// doubtCounts finds gaugings that the metered burn contradicts before and after. It has no say where a tank was not
// gauged, or fuel came in.
func (b *Book) doubtCounts(lines []*tankLine) {
	if len(lines) == 0 || len(b.meters) == 0 {
		return
	}
	all := b.tanksOf(Storage, Intermediate)
	var counts []*content
	lead := b.largest(b.tanksOf(Storage))
	for _, g := range b.gaugingsOf(lead) {
		c := b.contentAround(all, g.At, sameRound)
		if c == nil || b.anyLeftOut(c) {
			continue
		}
		counts = append(counts, c)
	}
	missing, far := b.missingAt(counts, lines)
	for i := 1; i+1 < len(missing); i++ {
		there, back := missing[i], missing[i+1]
		least, most := math.Min(math.Abs(there), math.Abs(back)), math.Max(math.Abs(there), math.Abs(back))
		if there*back < 0 && least > math.Max(far, 3*b.changeSigma(counts[i-1], counts[i])) && most-least <= countBack*most && b.nameCount(counts[i], (back-there)/2, lines) {
			missing[i+1] = 0 // what follows is no longer held against it
		}
	}
}

// missingAt gives the litres that are missing at each count beside the one before, 0 where nothing can be said, and
// how many are far beyond the plant's own spread.
func (b *Book) missingAt(counts []*content, lines []*tankLine) (missing []float64, far float64) {
	missing = make([]float64, len(counts))
	var spread []float64
	for i := 1; i < len(counts); i++ {
		if litres, known := b.missing(counts[i-1], counts[i], lines); known {
			missing[i] = litres
			spread = append(spread, math.Abs(litres))
		}
	}
	if len(spread) < fewestCounts {
		return missing, math.Inf(1)
	}
	return missing, math.Max(countSpreads*madToSD*median(spread), b.capacityOf(b.tanksOf(DayTank)))
}

func (b *Book) anyLeftOut(c *content) bool {
	return slices.ContainsFunc(c.dips, func(g measuredGauging) bool { return b.leftOut[g.Gauging] })
}

// missing gives the litres that are missing at a count beside the one before, by what was metered and drawn; known is
// false where nothing can be said.
func (b *Book) missing(from, to *content, lines []*tankLine) (litres float64, known bool) {
	for _, l := range lines {
		if anyWithin(l.inflows, from.at, to.at) || anyWithin(l.resets, from.at, to.at) {
			return 0, false
		}
	}
	burned, ok := b.ranBetween(from.at, to.at)
	if !ok || b.drawnOn(from.at) || b.drawnOn(to.at) {
		return 0, false
	}
	var ignored notice.List
	return from.fuel - to.fuel - burned - b.drawn(from.at, to.at, &ignored), true
}

// drawnOn tells whether fuel was drawn, or given back, on the day of a moment: nobody knows whether before or after it. What goes
// on for a week or more is shared out over its days.
func (b *Book) drawnOn(at time.Time) bool {
	day := calendar.DayOf(at, b.Zone)
	return slices.ContainsFunc(b.drawsOn(day, day), func(d *Draw) bool { return d.LastDay-d.FirstDay < 7 })
}

// ranBetween is what all meters together ran of the book's product between two moments at which each was read, in litres
// at 15 °C.
func (b *Book) ranBetween(from, to time.Time) (litres float64, ok bool) {
	if all, _ := b.burning.all(from, to, sameRound); !all {
		return 0, false
	}
	return b.metersRan(from, to)
}

// metersRan is ranBetween of whatever product.
func (b *Book) metersRan(from, to time.Time) (litres float64, ok bool) {
	var ignored notice.List
	for _, m := range b.meters {
		readings := b.readings[m.ID]
		if len(readings) == 0 {
			continue
		}
		when := func(r *MeterReading) time.Time { return r.At }
		before, now := readings[nearestTo(readings, from, when)], readings[nearestTo(readings, to, when)]
		run, known := b.run(m, before, now)
		if !known || b.leftOut[before] || b.leftOut[now] || gap(before.At, from) > sameRound || gap(now.At, to) > sameRound {
			return 0, false
		}
		litres, ok = litres+b.metered(m, run, before, now, &ignored), true
	}
	return litres, ok
}

// nameCount doubts the gauging of a count that a known slip brings back by the litres that the count is off. Of several
// it is that of the tank which then stands best between its own gaugings before and after; where none is, nothing is
// said.
func (b *Book) nameCount(c *content, off float64, lines []*tankLine) bool {
	best, say := math.Inf(1), func() {}
	for _, l := range lines {
		g, ok := l.gaugingAround(l.tank, c.at, sameRound)
		before, after := l.neighbours(&g)
		if !ok || l.isConfirmed(g.Gauging) || g.Volume != nil || before == nil || after == nil {
			continue
		}
		right := g.fuel() - off
		spare := math.Max(countBack/2*math.Abs(off), l.tight(&g, &g))
		cause, away := l.readingCause(&g, litreRange{right - spare, right + spare}), math.Abs(right-(before.fuel()+after.fuel())/2)
		if cause != "" && away < best {
			best, say = away, func() { l.say(&g, cause, WholeRow, right-spare, right+spare) }
		}
	}
	say()
	return !math.IsInf(best, 1)
}
