package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// Two instruments that know nothing of each other vouch for each other where they agree: what the meters ran is then
// believed though it is far from usual, and so is the fall of the tanks. Common practice, no source.
const (
	vouchShare   = 0.15 // of what was run, by which the tanks may have fallen more or less
	sameLevel    = 2    // times by which two runs in a row may differ and still be of one new level
	emptiedTwice = 2    // times all tanks that a plant may burn between two readings, with fuel that nobody entered
)

// vouched is a stretch between two dips of all tanks, and what left them by both kinds of instruments.
type vouched struct {
	from, to time.Time
	litres   float64
}

// findVouched compares what ran through the meters with the fall of the tanks, from each count to the next.
func (b *Book) findVouched(lines []*meterLine) {
	if len(lines) == 0 {
		return
	}
	var before *content
	for _, g := range b.gaugingsOf(b.largest(b.tanksOf(Storage))) {
		now := b.contentAround(b.bulkOn(calendar.DayOf(g.At, b.Zone)), g.At, sameRound)
		if now == nil {
			continue
		}
		if before != nil && now.sameTanks(before) {
			if litres, ok := b.agreed(before, now, lines); ok {
				b.vouchedFor = append(b.vouchedFor, vouched{before.at, now.at, litres})
			}
		}
		before = now
	}
}

// bulkOn gives the storage and intermediate tanks that count on a day.
func (b *Book) bulkOn(day calendar.Day) []*Tank {
	var found []*Tank
	for _, t := range b.counted(day) {
		if t.Role != DayTank {
			found = append(found, t)
		}
	}
	return found
}

// agreed gives what left the tanks between two counts where meters and dips say the same.
func (b *Book) agreed(from, to *content, lines []*meterLine) (litres float64, ok bool) {
	run := 0.0
	for _, l := range lines {
		if len(l.readings) == 0 {
			continue
		}
		when := func(r *MeterReading) time.Time { return r.At }
		first, last := l.readings[nearestTo(l.readings, from.at, when)], l.readings[nearestTo(l.readings, to.at, when)]
		counts, known := l.run(l.meter, first, last)
		if !known || gap(first.At, from.at) > sameRound || gap(last.At, to.at) > sameRound {
			return 0, false
		}
		run += counts * l.litresPerCount()
	}
	var ignored notice.List
	fell := from.fuel - to.fuel + b.received(from, to, &ignored) - b.drawn(from.at, to.at, &ignored) + b.repaid(from.at, to.at, &ignored)
	spare := vouchShare*run + 3*math.Hypot(from.ofFuel, to.ofFuel)
	// What lies within the errors of the dips says nothing.
	return run, run > spare && math.Abs(run-fell) <= spare
}

// vouches tells whether dips say that the plant may have burned as much as a meter ran between two moments.
func (b *Book) vouches(litres float64, from, to time.Time) bool {
	for _, v := range b.vouchedFor {
		if !from.Before(v.from.Add(-sameRound)) && !to.After(v.to.Add(sameRound)) && litres <= v.litres*(1+vouchShare) {
			return true
		}
	}
	return false
}

// atOneLevel tells whether the meter runs on as fast before or after two readings as between them: a plant that burns at a new
// level does, and a slip of the pen does not, since the register is then back where it was.
func (l *meterLine) atOneLevel(i, j int) bool {
	rate := func(i, j int) (float64, bool) {
		if i < 0 || j >= len(l.readings) || l.readings[j].Register < l.readings[i].Register {
			return 0, false
		}
		before, now := l.readings[i], l.readings[j]
		run, ok := l.run(l.meter, before, now)
		return run / daysBetween(before.At, now.At), ok && run > 0
	}
	here, ok := rate(i, j)
	if !ok {
		return false
	}
	for _, beside := range [][2]int{{i - 1, i}, {j, j + 1}} {
		if other, ok := rate(beside[0], beside[1]); ok && math.Max(here, other) <= sameLevel*math.Min(here, other) {
			return true
		}
	}
	return false
}

// mostFuel is what a plant can have burned at most between two moments, litres at 15 °C: all that its tanks hold, and what
// came. Over a longer time, and where no tank is known, nothing is certain.
func (b *Book) mostFuel(from, to time.Time) float64 {
	held := b.capacityOf(b.Tanks)
	if held == 0 || daysBetween(from, to) > aroundDays {
		return math.Inf(1)
	}
	var ignored notice.List
	for _, d := range b.rows.Deliveries {
		if b.brings(d) && d.At.After(from.Add(-sameDay)) && !d.At.After(to.Add(sameDay)) {
			held += b.at15(d.Measure, "", &ignored)
		}
	}
	return held
}
