package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// MeterPrecision is the standard uncertainty of metered volume, as a share of it: small meters hold
// 0.5 to 1 % when new (common practice, no source).
const MeterPrecision = 0.005

// count is a meter's running total at a reading. Where what ran between two readings cannot be known,
// the later one begins a new life.
type count struct {
	at     time.Time
	litres float64 // at 15 °C since the life began
	blind  float64 // of these, corrected at a temperature that nobody read
	life   int
	guess  float64 // standard uncertainty of a total that was not read
	new    bool    // the meter was put in here: it ran nothing before
}

// counts turns a meter's readings into a running total in litres at 15 °C: rollover, swaps, meter
// factor, temperature. Readings that cannot be right are set aside and named.
func (b *Book) counts(m *Meter, notes *notice.List) []count {
	b.nameMisread(m, notes)
	readings := b.readings[m.ID]
	if len(readings) == 0 {
		return nil
	}
	total := b.beginning(m, readings[0], notes)
	for i := 1; i < len(readings); i++ {
		before, now := readings[i-1], readings[i]
		last := total[len(total)-1]
		next := count{at: now.At, life: last.life + 1}
		if run, ok := b.run(m, before, now); ok && !b.runUnknown[now] {
			litres := b.metered(m, run, before, now, notes)
			next.life, next.litres, next.blind = last.life, last.litres+litres, last.blind
			if !m.Compensated && before.Temperature == nil && now.Temperature == nil {
				next.blind += litres
			}
		} else {
			notes.Add(notice.New(notice.Caution, "meter-gap", "meter "+m.ID,
				"what ran between %s and %s is not known", b.day(before.At), b.day(now.At)))
		}
		total = append(total, next)
	}
	if b.retired(m) {
		total = b.takenOut(m, total, readings[len(readings)-1], notes)
	}
	return total
}

// beginning is a meter's first count, and before it that of its putting in where that is known: by a swap that states an opening
// and no closing, or by a register that stands at 0.
func (b *Book) beginning(m *Meter, first *MeterReading, notes *notice.List) []count {
	for _, s := range b.swaps[m.ID] {
		if s.At.After(first.At) || s.Closing != nil || s.Opening == nil {
			continue
		}
		if ran, ok := m.forward(*s.Opening, first.Register); ok {
			start := &MeterReading{At: s.At, Register: *s.Opening}
			litres := b.metered(m, ran, start, first, notes)
			return []count{{at: s.At, new: true}, {at: first.At, litres: litres}}
		}
	}
	return []count{{at: first.At, new: first.Register == 0 && !b.lostUnmetered(first.At)}}
}

// takenOut adds what a meter ran from its last reading until it was taken out.
func (b *Book) takenOut(m *Meter, total []count, last *MeterReading, notes *notice.List) []count {
	swaps := b.swaps[m.ID]
	out := swaps[len(swaps)-1]
	if out.Closing == nil {
		return total
	}
	final := &MeterReading{At: out.At, Register: *out.Closing}
	ran, ok := m.forward(last.Register, final.Register)
	if !ok {
		return total
	}
	before := total[len(total)-1]
	out15 := before
	out15.at, out15.litres = out.At, before.litres+b.metered(m, ran, last, final, notes)
	return append(total, out15)
}

// run gives the counts that a register ran between two readings, over a swap or a rollover.
func (b *Book) run(m *Meter, before, now *MeterReading) (counts float64, ok bool) {
	register := before.Register
	for _, s := range b.swapsBetween(m, before, now) {
		if s.Closing == nil || s.Opening == nil {
			return 0, false
		}
		d, ok := m.forward(register, *s.Closing)
		if !ok {
			return 0, false
		}
		counts, register = counts+d, *s.Opening
	}
	d, ok := m.forward(register, now.Register)
	return counts + d, ok
}

// forward gives the counts from one register to a later one. A register that falls by more than half of
// its range has rolled over; one that falls by less was misread or changed.
func (m *Meter) forward(from, to float64) (counts float64, ok bool) {
	if to >= from {
		return to - from, true
	}
	if m.rolledOver(from - to) {
		return to - from + math.Pow10(m.Digits), true
	}
	return 0, false
}

// doubtsMeter tells that a reading of a meter is left out: the meter was in use then, though what it ran is not known.
func (b *Book) doubtsMeter(m *Meter) bool {
	return slices.ContainsFunc(b.doubtful, func(d Doubt) bool {
		r, ok := d.row.(*MeterReading)
		return ok && r.Meter == m.ID && d.Scope == WholeRow
	})
}

// retired tells that a meter was taken out at its last swap: none was put in its place and it was not
// read again.
func (b *Book) retired(m *Meter) bool {
	swaps, readings := b.swaps[m.ID], b.readings[m.ID]
	if len(swaps) == 0 || len(readings) == 0 {
		return false
	}
	last := swaps[len(swaps)-1]
	return last.Opening == nil && !readings[len(readings)-1].At.After(last.At)
}

// nameMisread raises a notice for each reading of a meter that is left out because it looks wrong.
func (b *Book) nameMisread(m *Meter, notes *notice.List) {
	for _, d := range b.doubtful {
		if r, ok := d.row.(*MeterReading); ok && r.Meter == m.ID && d.Scope == WholeRow {
			notes.Add(b.misread(m, r))
		}
	}
}

func (b *Book) misread(m *Meter, r *MeterReading) notice.Notice {
	return notice.New(notice.Caution, "meter-misread", "meter "+m.ID,
		"the reading of %.0f on %s does not fit its neighbours and is set aside", r.Register, b.day(r.At))
}

// metered converts counts to litres at 15 °C, at the mean of the temperatures read at both ends.
func (b *Book) metered(m *Meter, counts float64, before, now *MeterReading, notes *notice.List) float64 {
	v := Measure{Volume: units.Litres(counts * m.LitresPerCount * b.factor(m, before.At, now.At))}
	switch {
	case m.Compensated:
		v.Basis = Basis15
	case before.Temperature != nil && now.Temperature != nil:
		mean := (*before.Temperature + *now.Temperature) / 2
		v.Temperature = &mean
	case now.Temperature != nil:
		v.Temperature = now.Temperature
	default:
		v.Temperature = before.Temperature
	}
	return b.at15(v, "meter "+m.ID, notes)
}
