package forecast

import (
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

const (
	thinCount  = 12  // fitted intervals, and
	thinDays   = 365 // days covered, below which a history is thin
	silentDays = 14  // of zeros at the end, or of nothing at all, that deserve a word
)

// report takes over from a finished fit which intervals are faulty, and says what weakens the model. It
// reports false if no interval is left.
func (m *Model) report(f *fit) bool {
	fitted := m.takeFaults(f)
	if len(fitted) == 0 {
		return false
	}
	last := f.observations[fitted[len(fitted)-1]].Interval
	m.span = last.End - f.observations[fitted[0]].Start
	for _, i := range fitted {
		m.used += f.observations[i].Days()
	}
	say := func(severity notice.Severity, code, format string, args ...any) {
		m.notices.Add(notice.New(severity, code, m.plant, format, args...))
	}
	if len(fitted) < thinCount || m.used < thinDays {
		say(notice.Caution, "thin-history", "only %d usable intervals over %.0f days: the forecast is wide", len(fitted), m.used)
	}
	if n := len(m.faults); n > 0 {
		say(notice.Caution, "faulty-intervals", "%d of %d intervals look faulty and were left out", n, n+len(fitted))
	}
	for gap, jump := range f.jumps {
		if jump > 0 {
			at := calendar.Day(f.knots.first + float64(gap)*f.knots.step)
			say(notice.Caution, "load-step",
				"use changed in the %.0f days from %s and stayed changed: taken as a step of load", f.knots.step, at)
		}
	}
	for _, e := range f.events {
		first, last := e.describe(m.origin)
		say(notice.Info, "yearly-event", "use is out of the ordinary at the same time in most years, "+
			"last from %s to %s: taken as the plant's own season", first, last)
	}
	m.reportSilence(f, last.End, say)
	return true
}

// takeFaults keeps the named intervals as faults, in order of time, and gives the indices of the others.
func (m *Model) takeFaults(f *fit) (fitted []int) {
	for i, o := range f.observations {
		if o.named {
			m.faults = append(m.faults, faultOf(o.Interval, f.rows[i].expected))
		} else {
			fitted = append(fitted, i)
		}
	}
	slices.SortStableFunc(m.faults, func(a, b Fault) int {
		switch {
		case a.Interval.Start < b.Interval.Start:
			return -1
		case a.Interval.Start > b.Interval.Start:
			return 1
		}
		return 0
	})
	return fitted
}

// reportSilence says when the history ends in zeros, or long before the origin. The forecast goes on
// from the last known level: it does not guess that a plant stands by.
func (m *Model) reportSilence(f *fit, lastFitted float64, say func(notice.Severity, string, string, ...any)) {
	lastSeen := f.observations[len(f.observations)-1]
	zeros := 0.0
	for i := len(f.observations) - 1; i >= 0 && f.observations[i].Litres == 0; i-- {
		zeros += f.observations[i].Days()
	}
	switch {
	case zeros >= silentDays:
		say(notice.Serious, "zeros-at-end", "the last %.0f days say zero: standing by or not reporting; "+
			"the forecast assumes that it burns as before", zeros)
	case m.origin-lastFitted >= silentDays && lastSeen.named:
		say(notice.Caution, "readings-doubtful",
			"nothing usable since %s: the last intervals look faulty", calendar.Day(lastFitted))
	case m.origin-lastFitted >= silentDays:
		say(notice.Caution, "readings-old", "no interval since %s", calendar.Day(lastFitted))
	}
}
