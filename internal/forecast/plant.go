package forecast

import (
	"cmp"
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

const (
	mostRounds     = 15
	evidenceRounds = 2
	oldestDays     = 15 * daysPerYear // older history says nothing of the level and little of the season
	steady         = 0.01             // change of the noise from round to round at which a fit has settled
)

// fitPlant fits one plant with what ends by the end of the origin day.
func fitPlant(s Series, origin calendar.Day, p prior, c Calibration) Model {
	m := Model{plant: s.Plant, group: s.Group, origin: float64(origin) + 1, known: knownOf(s, float64(origin)+1)}
	m.reportChanges(s)
	observations := m.hold(m.take(s.Intervals), s.Energy)
	if !anyBurn(observations) {
		for _, o := range observations {
			if !o.idle {
				m.faults = append(m.faults, faultOf(o.Interval, 0))
			}
		}
		if !m.withoutReadings(s.Facts, p, c) {
			m.err = fault.New(fault.Invalid,
				"%s has no usable interval before %s: its consumption cannot be forecast", s.Plant, origin+1)
		}
		return m
	}
	f := newFit(observations, m.known, m.origin, p)
	fits := f.run(c.Laws)
	if fits && f.isErratic() {
		f = f.asErratic(m.origin)
		fits = f.run(c.Laws)
	}
	if fits {
		m.knots, m.noise, m.events, m.erratic, m.known = f.knots, f.noise, f.events, f.erratic, f.known
		m.posteriors, m.evidence = f.weighLaws(c.Laws)
		m.posteriors = slices.Clone(m.posteriors) // without the room of those that do not matter
		m.level, m.season, m.calibration = f.level, f.season, c
		f.linearise()
		shift := lastYearShare * f.lastYear(m.posteriors)
		for i := range m.posteriors {
			m.posteriors[i].mean[0] += shift
			if f.erratic {
				m.posteriors[i].centre(c.Scales)
			}
		}
	}
	if !fits || len(m.posteriors) == 0 || !m.report(f) {
		m.err = fault.New(fault.Invalid, "%s: no model fits its intervals; check their units and dates", s.Plant)
	}
	return m
}

func anyBurn(observations []observation) bool {
	return slices.ContainsFunc(observations, func(o observation) bool { return o.Litres > 0 })
}

// take sorts the intervals of the last years that end by the origin and can be read; those that cannot
// are faults.
func (m *Model) take(intervals []Interval) []observation {
	observations := make([]observation, 0, len(intervals))
	for _, i := range intervals {
		defect := i.defect()
		switch {
		case i.End > m.origin+1e-9, i.Start < m.origin-oldestDays:
		case defect != "":
			m.faults = append(m.faults, Fault{Interval: i.finite(), Reason: defect})
		case m.known.standsBy(i):
		default:
			i.End = min(i.End, m.origin)
			observations = append(observations, observation{Interval: i})
		}
	}
	inTime := func(a, b observation) int {
		if a.Start != b.Start {
			return cmp.Compare(a.Start, b.Start)
		}
		return cmp.Compare(a.End, b.End)
	}
	if !slices.IsSortedFunc(observations, inTime) { // as they mostly are
		slices.SortStableFunc(observations, inTime)
	}
	return observations
}

// begin fits under the usual law; it reports false if the fit runs away.
func (f *fit) begin() bool {
	if f.erratic {
		f.startErratic()
	} else {
		f.start()
	}
	return f.settle()
}

// beginWithSums begins, joins what is right only as a sum, and then begins anew.
func (f *fit) beginWithSums() bool {
	if !f.begin() {
		return false
	}
	if f.erratic { // what is much one month and little the next is no slip
		return true
	}
	suspects, found := f.suspect()
	joined := f.withSums(suspects)
	switch {
	case joined != nil:
		p := f.prior
		p.withoutEvents()
		*f = *newFit(joined, f.known, f.knots.first+float64(f.knots.count-1)*f.knots.step, p)
		return f.begin()
	case found:
		return f.settle() // which clears the suspects
	}
	return true
}

// run fits under the usual law and then under the mean of those that the evidence favours: what counts as noise
// and what as faulty depends on the law, and the evidence on the noise. Belief is how probable each law is before any
// reading.
func (f *fit) run(belief []float64) bool {
	if !f.beginWithSums() {
		return false
	}
	for range evidenceRounds {
		found, _ := f.weighLaws(belief)
		if len(found) == 0 {
			return false
		}
		f.law = meanLaw(found)
		f.linearise()
		if !f.settle() {
			return false
		}
		for jumps := 0; jumps < mostJumps && !f.erratic && f.admitJump(); jumps++ {
			if !f.settle() {
				return false
			}
		}
	}
	return true
}

// settle alternates between fitting, measuring the noise and naming faults until the verdicts stand.
func (f *fit) settle() bool {
	for range mostRounds {
		factor, ok := f.step()
		if !ok {
			return false
		}
		f.spreadParameters(factor)
		before := f.noise
		f.rescale()
		f.findWeek()
		changed := f.judgeAll()
		f.weigh()
		if !changed && math.Abs(f.noise.sd/before.sd-1) < steady && math.Abs(f.noise.rho-before.rho) < steady {
			break
		}
	}
	return true
}
