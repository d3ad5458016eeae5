package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	fitted, joined := m.takeFaults(f)
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
	if joined > 0 {
		say(notice.Info, "joined-intervals", "%d intervals are right only together with what lies beside them: used as sums", joined)
	}
	if n := len(m.faults) - joined; n > 0 {
		say(notice.Caution, "faulty-intervals", "%d of %d intervals look faulty and were left out", n, n+len(fitted))
	}
	if f.erratic {
		say(notice.Caution, "erratic-use", "use varies by %.0f %% from month to month, season apart: the forecast is that of its mean",
			100*math.Sqrt(f.noise.variation(monthDays)))
	}
	for gap, jump := range f.jumps {
		if jump > 0 && !f.declared[gap] {
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

// takeFaults keeps the named intervals as faults, and those that were used only as a part of a sum, in order of time. It gives the
// indices of the observations that were fitted, and how many intervals are such parts.
func (m *Model) takeFaults(f *fit) (fitted []int, joined int) {
	fitted = make([]int, 0, len(f.observations))
	for i := range f.observations {
		o := &f.observations[i]
		switch {
		case !o.named && o.whole == nil:
			fitted = append(fitted, i)
		case !o.named:
			fitted = append(fitted, i)
			joined += len(o.whole.parts)
			m.faults = append(m.faults, o.whole.parts...)
		case o.whole != nil:
			for _, p := range o.whole.parts {
				m.faults = append(m.faults, faultOf(p.Interval, float64(p.Expected)))
			}
		case !o.reckoned(): // else nobody reported it as burned
			m.faults = append(m.faults, faultOf(o.Interval, f.rows[i].expected))
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
	return fitted, joined
}

// reportSilence says when the history ends in zeros, or long before the origin. The forecast goes on
// from the last known level: it does not guess that a plant stands by.
func (m *Model) reportSilence(f *fit, lastFitted float64, say func(notice.Severity, string, string, ...any)) {
	if m.known.standsBy(Interval{Start: lastFitted, End: m.origin}) {
		return
	}
	lastSeen := f.observations[len(f.observations)-1]
	zeros, state := 0.0, "standing by"
	for i := len(f.observations) - 1; i >= 0 && f.observations[i].Litres == 0; i-- {
		zeros += f.observations[i].Days()
		if !f.observations[i].idle {
			state = "standing by or not reporting"
		}
	}
	switch {
	case zeros >= silentDays:
		say(notice.Serious, "zeros-at-end", "the last %.0f days say zero: %s; "+
			"the forecast assumes that it burns as before", zeros, state)
	case m.origin-lastFitted >= silentDays && lastSeen.named:
		say(notice.Caution, "readings-doubtful",
			"nothing usable since %s: the last intervals look faulty", calendar.Day(lastFitted))
	case m.origin-lastFitted >= silentDays:
		say(notice.Caution, "readings-old", "no interval since %s", calendar.Day(lastFitted))
	}
}

// reportSpecific says when a kWh began to take more fuel or less.
func (m *Model) reportSpecific(s specificLevel) {
	var told []string
	for i, step := range s.steps {
		from, to := 0, len(s.pairs)
		if i > 0 {
			from = s.steps[i-1]
		}
		if i+1 < len(s.steps) {
			to = s.steps[i+1]
		}
		before, after := s.medianOf(max(from, step-nearPairs), step), s.medianOf(step, min(to, step+nearPairs))
		told = append(told, fmt.Sprintf("%.3f L before and %.3f L after %s (%+.0f %%)", math.Exp(before), math.Exp(after),
			calendar.Day(math.Floor((s.pairs[step-1].at+s.pairs[step].at)/2)), 100*math.Expm1(after-before)))
	}
	if told != nil {
		m.notices.Add(notice.New(notice.Info, "specific-consumption", m.plant,
			"a kWh took %s: another engine, or a meter that counts otherwise", strings.Join(told, ", ")))
	}
}

// reportEnergy says where the energy took the place of fuel, where it was odd itself, and where there was neither.
func (m *Model) reportEnergy(kept []observation, accounts []account) {
	var standIns, odd int
	var reckoned, idle float64 // days
	for i := range kept {
		switch o := &kept[i]; {
		case o.standIn:
			standIns++
			reckoned += o.Days()
		case o.idle:
			idle += o.Days()
		}
	}
	for i := range accounts {
		if accounts[i].verdict == oddEnergy {
			odd++
		}
	}
	say := func(code, format string, args ...any) {
		m.notices.Add(notice.New(notice.Info, code, m.plant, format, args...))
	}
	if standIns > 0 {
		say("energy-stands-in", "%d intervals of %.0f days have no fuel that can be believed: reckoned from their kWh", standIns, reckoned)
	}
	if odd > 0 {
		say("energy-doubtful", "%d times the kWh contradict fuel that is usual for the time: left aside", odd)
	}
	if idle > 0 {
		say("stood-by", "neither fuel nor energy for %.0f days: standing by, not fitted", idle)
	}
}
