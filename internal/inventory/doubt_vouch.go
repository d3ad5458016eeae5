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
	vouchShare     = 0.15 // of what was run, by which the tanks may have fallen more or less
	sameLevel      = 2    // times by which two runs in a row may differ and still be of one new level
	levelTolerance = 0.1  // of a ratio of units or digits that a new level may not have
	emptiedTwice   = 2    // times all tanks that a plant may burn between two readings, with fuel that nobody entered
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
			if run, fell, spare, ok := b.bothSay(before, now, lines); ok {
				b.weigh(vouched{before.at, now.at, run}, fell, spare)
			}
		}
		before = now
	}
}

// weigh keeps what both kinds of instruments say of a stretch: that they agree, or that the meters ran far more than the tanks lost.
// What lies within the errors says nothing.
func (b *Book) weigh(v vouched, fell, spare float64) {
	switch off := spare + vouchShare*v.litres; {
	case v.litres <= spare:
	case math.Abs(v.litres-fell) <= off:
		b.vouchedFor = append(b.vouchedFor, v)
	case v.litres > fell+off:
		b.denied = append(b.denied, v)
	}
	if fell > v.litres+spare+vouchShare*v.litres {
		b.unmeteredLoss = append(b.unmeteredLoss, v)
	}
	if cause := closestCause(v.litres/math.Max(fell, 1), volumeRatios, ratioTolerance/2); cause != "" && fell > spare {
		b.offByRatio = append(b.offByRatio, v)
	} else {
		b.offByRatio = nil
	}
}

// nameRatio tells of meters that have run a known multiple of what the tanks lost for as long as two counts and more: their unit or
// their number of decimals is another than is entered.
func (b *Book) nameRatio() {
	if n := len(b.offByRatio); n >= 2 {
		b.doubts.Add(notice.New(notice.Serious, "meter-beside-dips", "plant "+b.Plant.ID,
			"since %s the meters have run several times as much or as little as the tanks lost, as another unit or digit would make them: check the unit of the meter",
			b.day(b.offByRatio[0].from)))
	}
}

// lostUnmetered tells whether the tanks lost more than the meters ran before a moment: then another meter may have run already.
func (b *Book) lostUnmetered(at time.Time) bool {
	for _, v := range b.unmeteredLoss {
		if !v.to.After(at.Add(sameRound)) && at.Sub(v.to) < aroundDays*24*time.Hour {
			return true
		}
	}
	return false
}

// denies tells whether dips say that the plant cannot have burned what a meter ran between two moments.
func (b *Book) denies(from, to time.Time) bool {
	for _, v := range b.denied {
		if from.Before(v.to) && v.from.Before(to) {
			return true
		}
	}
	return false
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

// bothSay gives what ran through the meters between two counts, and what the tanks lost, with what that may be off by; ok is false
// where the meters do not tell.
func (b *Book) bothSay(from, to *content, lines []*meterLine) (run, fell, spare float64, ok bool) {
	if all, _ := b.burning.all(from.at, to.at, sameRound); !all {
		return 0, 0, 0, false
	}
	for _, l := range lines {
		if len(l.readings) == 0 || l.readings[0].At.After(to.at.Add(sameRound)) {
			continue
		}
		when := func(r *MeterReading) time.Time { return r.At }
		first, last := l.readings[nearestTo(l.readings, from.at, when)], l.readings[nearestTo(l.readings, to.at, when)]
		counts, known := l.run(l.meter, first, last)
		if !known || gap(first.At, from.at) > sameRound || gap(last.At, to.at) > sameRound {
			return 0, 0, 0, false
		}
		run += counts * l.litresPerCount()
	}
	var ignored notice.List
	fell = from.fuel - to.fuel + b.received(from, to, &ignored) - b.drawn(from.at, to.at, &ignored) + b.repaid(from.at, to.at, &ignored)
	return run, fell, 3*b.changeSigma(from, to) + b.capacityOf(b.tanksOf(Intermediate, DayTank)), true
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
	u := l.usual.at(midway(l.readings[i].At, l.readings[j].At))
	if closestCause(here/u.middle, volumeRatios, levelTolerance) != "" { // or it is read in another unit from then on
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
	for _, d := range b.deliveriesWithin(from.Add(-sameDay), to.Add(sameDay)) {
		if b.brings(d) {
			held += b.at15(d.Measure, "", &ignored)
		}
	}
	return held
}
