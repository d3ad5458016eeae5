package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/units"
)

// doubtReadings looks through the readings of each meter for those that do not follow on from the others.
func (b *Book) doubtReadings() {
	b.usualRuns = map[string]*usualRates{}
	lines := make([]*meterLine, 0, len(b.meters))
	for _, m := range b.meters {
		lines = append(lines, b.meterLine(m))
	}
	b.findVouched(lines)
	b.nameRatio()
	for _, l := range lines {
		l.findUsual()
	}
	for _, l := range lines {
		kept, changed := chain(len(l.readings), func(i int) bool { return b.isConfirmed(l.readings[i]) }, l.between)
		for at, i := range kept {
			next := len(l.readings)
			if at+1 < len(kept) {
				next = kept[at+1]
			}
			if at == 0 {
				for slip := range i {
					l.doubtSlip(nil, l.readings[slip], l.readings[i], lines)
				}
			} else if changed[at] {
				l.doubtChange(l.readings[kept[at-1]], l.readings[i], lines)
			}
			for slip := i + 1; slip < next; slip++ {
				var after *MeterReading
				if next < len(l.readings) {
					after = l.readings[next]
				}
				l.doubtSlip(l.readings[i], l.readings[slip], after, lines)
			}
		}
	}
}

// meterLine is one meter's readings with what it usually runs, in counts.
type meterLine struct {
	*Book
	meter    *Meter
	readings []*MeterReading
	usual    *usualRates
	slack    float64 // counts that may go by at once: a fill of the day tanks
}

func (b *Book) meterLine(m *Meter) *meterLine {
	l := &meterLine{Book: b, meter: m, readings: b.readings[m.ID]}
	l.slack = b.capacityOf(b.tanksOf(DayTank)) / l.litresPerCount()
	return l
}

// findUsual finds what the meter usually runs, but for the time in which the dips say that it cannot have run so much.
func (l *meterLine) findUsual() {
	rates := make([]rate, 0, len(l.readings))
	for i := 1; i < len(l.readings); i++ {
		before, now := l.readings[i-1], l.readings[i]
		if run, ok := l.run(l.meter, before, now); ok && run > 0 && !l.denies(before.At, now.At) {
			rates = append(rates, rate{midway(before.At, now.At), run / daysBetween(before.At, now.At)})
		}
	}
	l.usual = newUsualRates(rates)
	l.usualRuns[l.meter.ID] = l.usual
}

func (l *meterLine) litresPerCount() float64 {
	return l.meter.LitresPerCount * orElse(positive(l.meter.Factor), 1)
}

// most gives the counts that may have run from one moment to another.
func (l *meterLine) most(from, to time.Time) float64 {
	return l.mostOf(l.usual.at(midway(from, to)), from, to)
}

func (l *meterLine) mostOf(u usualRate, from, to time.Time) float64 {
	if !u.known {
		return l.mostFuel(from, to) / l.litresPerCount()
	}
	return u.far*daysBetween(from, to) + math.Max(l.slack, u.middle/2)
}

func (l *meterLine) between(i, j int) step {
	before, now := l.readings[i], l.readings[j]
	run, ok := l.run(l.meter, before, now)
	if !ok { // over a swap whose registers are not known any reading may follow
		return step{follows: len(l.swapsBetween(l.meter, before, now)) > 0}
	}
	u := l.usual.at(midway(before.At, now.At))
	if run > l.mostOf(u, before.At, now.At) && !l.believed(i, j, run) {
		return step{}
	}
	s, days := step{follows: true}, daysBetween(before.At, now.At)
	uneven := run / days
	if u.known {
		uneven -= u.middle
	}
	s.roughness = days * uneven * uneven
	if now.Register < before.Register && len(l.swapsBetween(l.meter, before, now)) == 0 {
		s.price += rolloverPrice
	}
	if l.meter.rolledOver(run) {
		s.price += rolloverPrice
	}
	return s
}

// believed tells whether a run is believed though it is far beyond what is usual.
func (l *meterLine) believed(i, j int, run float64) bool {
	before, now, litres := l.readings[i], l.readings[j], run*l.litresPerCount()
	if l.isConfirmed(now) || l.vouches(litres, before.At, now.At) {
		return true
	}
	return j == i+1 && l.atOneLevel(i, j) && !l.denies(before.At, now.At) && litres <= emptiedTwice*l.mostFuel(before.At, now.At)
}

// doubtSlip names a reading that its neighbours do without; one of the two may not be there.
func (l *meterLine) doubtSlip(before, r, after *MeterReading, lines []*meterLine) {
	low, high := l.expected(before, r, after)
	cause := Cause("")
	if r.Register < low || r.Register > high {
		cause = registerSlip(r.Register, low, high)
	}
	switch {
	case l.ofOther(r, lines, cause != ""):
		cause = OtherMeter
	case cause != "":
	case after == nil && r.Register < low && r.Register <= freshRegister*low:
		cause = MeterSwapped
	case r.Register < low:
		cause = GoingBackwards
	default:
		cause = BeyondBurn
	}
	l.Book.doubt(r, l.registerDoubt(r, cause, WholeRow, low, high))
}

// freshRegister is the share of the expected register below which a new meter is the likely cause. Common
// practice, no source.
const freshRegister = 0.5

// doubtChange names a reading from which on all follow on from each other, and none from those before.
func (l *meterLine) doubtChange(before, r *MeterReading, lines []*meterLine) {
	low, high := l.expected(before, r, nil)
	cause := MeterSwapped
	switch {
	case l.ofOther(r, lines, false):
		cause = OtherMeter
	case r.Register > high:
		cause = BeyondBurn
	}
	l.Book.doubt(r, l.registerDoubt(r, cause, RunBefore, low, high))
}

// expected gives the registers between which a reading should lie.
func (l *meterLine) expected(before, r, after *MeterReading) (low, high float64) {
	low, high = 0, math.Inf(1)
	if l.meter.Digits > 0 {
		high = math.Pow10(l.meter.Digits)
	}
	if after != nil {
		high = after.Register
	}
	if before == nil {
		if after != nil {
			low = math.Max(0, after.Register-l.most(r.At, after.At))
		}
		return low, high
	}
	low = before.Register
	if swaps := l.swapsBetween(l.meter, before, r); len(swaps) > 0 {
		low = orElse(swaps[len(swaps)-1].Opening, 0)
	}
	if most := low + l.most(before.At, r.At); most < high {
		high = most
	}
	if high < low { // a rollover lies between
		high = math.Inf(1)
	}
	return low, high
}

// ofOther tells whether the register fits another meter of the plant: both bigger than a day's run apart from
// this meter's own line, and between the other's readings around that moment. Where a slip of the pen explains it as
// well, only that the other was not read in the same round, or was given this one's register, tells that they were mixed up.
func (l *meterLine) ofOther(r *MeterReading, lines []*meterLine, slipped bool) bool {
	return slices.ContainsFunc(lines, func(o *meterLine) bool {
		if o.meter == l.meter || len(o.readings) == 0 {
			return false
		}
		i, _ := slices.BinarySearchFunc(o.readings, r.At, func(x *MeterReading, t time.Time) int { return x.At.Compare(t) })
		if i == 0 {
			return false
		}
		before := o.readings[i-1]
		if r.At.Sub(before.At) > aroundDays*24*time.Hour {
			return false
		}
		if i < len(o.readings) && slipped && gap(o.readings[i].At, r.At) <= sameRound && o.readings[i].Register >= before.Register {
			return false
		}
		run, ok := o.meter.forward(before.Register, r.Register)
		return ok && run <= o.most(before.At, r.At) && !math.IsInf(o.most(before.At, r.At), 1)
	})
}

func (l *meterLine) registerDoubt(r *MeterReading, cause Cause, scope Scope, low, high float64) Doubt {
	d := Doubt{At: r.At, Cause: cause, Scope: scope, Found: r.Register, Low: low, Unit: "counts", Subject: "meter " + r.Meter}
	expected := "expected from " + figure(math.Round(low)) + " on"
	if !math.IsInf(high, 1) {
		d.High = &high
		expected = "expected " + figure(math.Round(low)) + " to " + figure(math.Round(high))
	}
	words := causeWords[cause]
	if l.meter.Digits == 0 && (cause == MeterSwapped || cause == GoingBackwards) {
		words += "; if it ran through zero, enter the meter's digits"
	}
	d.Message = "the register showed " + figure(r.Register) + " on " + l.day(r.At) + ", " + expected + ": " + words +
		todo(scope, "what ran up to it")
	return d
}

// thinTimes is how many times the middle of a few runs tanks may fall. Common practice, no source.
const thinTimes = 16

// meteredPerDay is what the plant usually burns of the book's product in a day around a moment, as its meters say; ok is
// false where they do not.
func (b *Book) meteredPerDay(at time.Time) (usual, far units.LitresAt15, ok bool) {
	if !b.burning.at(at) {
		return 0, 0, false
	}
	for _, m := range b.meters {
		u := b.usualRuns[m.ID].at(at)
		if !u.known {
			u.far = thinTimes * u.middle
		}
		if u.middle > 0 {
			perCount := m.LitresPerCount * orElse(positive(m.Factor), 1)
			usual, far, ok = usual+units.LitresAt15(u.middle*perCount), far+units.LitresAt15(u.far*perCount), true
		}
	}
	return usual, far, ok
}

func positive(v float64) *float64 {
	if v > 0 {
		return &v
	}
	return nil
}
