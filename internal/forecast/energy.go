package forecast

import (
	"cmp"
	"math"
	"slices"

	"overwinter/internal/units"
)

// sameMoment is how many days two moments may lie apart and be one: fuel and energy are read on one round.
const sameMoment = 3.0 / 24

// basis says how the litres of an observation are known, where they are not simply as reported.
type basis struct {
	whole    *whole  // the parts in which they were reported; nil if they were reported as they are
	vouched  bool    // the energy agrees: they were burned, however unusual
	outlying bool    // so unusual that they would be named, were it not for the energy
	standIn  bool    // reckoned from the energy
	idle     bool    // nothing burned and nothing generated
	booked   float64 // how much too many they are taken to be, in logs: booked at the wrong time
	told     bool    // named by the energy, but fitted: a count correction, whose litres were burned at some time
}

// account is what was reported of one stretch of time: fuel, energy, or both.
type account struct {
	Interval
	fuel bool    // litres were reported
	kWh  float64 // NaN if not reported

	specific float64 // ln(litres/kWh); NaN unless both are above zero
	usual    float64 // its local level
	sd       float64 // standard deviation of specific about usual
	booked   float64 // how far specific is from that of the long run
	verdict  verdict
}

// verdict is what the energy says of the fuel.
type verdict int

const (
	unjudged   verdict = iota // nothing, or too little
	agreeing                  // it vouches for the litres
	faultyFuel                // they contradict each other, and the litres are the odd ones
	oddEnergy                 // they contradict each other, and the energy is the odd one
	missing                   // there are no litres, or none that can be: only the energy is known
	idle                      // no fuel and no energy
)

// off is how far the specific consumption is from its level, in logs.
func (a *account) off() float64 { return a.specific - a.usual }

// deviation gives the standard deviation of off, with that of the measurement.
func (a *account) deviation() float64 { return math.Hypot(a.sd, float64(a.Sigma)/a.byEnergy()) }

// byEnergy gives the litres that the energy takes.
func (a *account) byEnergy() float64 { return a.kWh * math.Exp(a.usual) }

// hold holds what was burned against what was generated with it. It names litres that contradict their energy where
// they are the odd ones; puts in their place, and in that of litres that were not reported, what the energy takes by the specific
// consumption of the time; uses as one interval what is right only together; and marks the litres for which the energy vouches.
func (m *Model) hold(observations []observation, energy []Energy) []observation {
	accounts := m.accounts(observations, energy)
	if accounts == nil {
		return observations
	}
	level, known := specificConsumption(accounts)
	if known {
		judgeByEnergy(accounts)
		m.reportSpecific(level)
	}
	kept := make([]observation, 0, len(accounts))
	for i := 0; i < len(accounts); i++ {
		if n := sumByEnergy(accounts[i:]); known && n > 0 {
			o := sumOf(piecesOf(accounts[i:i+n]), "by the energy")
			o.vouched = true
			kept = append(kept, o)
			i += n - 1
			continue
		}
		if o, ok := m.observed(accounts, i, known); ok {
			kept = append(kept, o)
		}
	}
	m.reportEnergy(kept, accounts)
	return kept
}

// observed gives the observation that an account makes, and names its litres if they are faulty. It reports false for energy alone of
// which no specific consumption is known.
func (m *Model) observed(accounts []account, i int, known bool) (o observation, ok bool) {
	a := &accounts[i]
	o.Interval = a.Interval
	if a.verdict == unjudged || a.verdict == agreeing {
		o.booked = bookedShare * a.booked
	}
	switch {
	case a.verdict == idle:
		o.idle = true
	case a.verdict == agreeing:
		o.vouched = !m.besideGap(accounts, i)
	case known && (a.verdict == faultyFuel || a.verdict == missing):
		if a.fuel {
			m.faults = append(m.faults, a.fault())
		}
		if a.fuel && a.isCorrection() {
			o.told = true
			break
		}
		litres := a.byEnergy()
		o.Litres, o.Sigma, o.standIn = units.LitresAt15(litres), units.LitresAt15(litres*a.sd), true
	}
	return o, a.fuel || o.standIn
}

// besideGap says whether nothing is known of a time just before or just after an account that could be another of its kind: its fuel
// and its energy may both be those of a longer time.
func (m *Model) besideGap(accounts []account, i int) bool {
	a := &accounts[i]
	before, after := a.Start, m.origin
	if i > 0 {
		before = accounts[i-1].End
	}
	if i+1 < len(accounts) {
		after = accounts[i+1].Start
	}
	return max(a.Start-before, after-a.End) > max(a.Days()/2, sameMoment)
}

// accounts puts fuel and energy of the same stretches together, in order of time. Energy that lies across the bounds of usage
// intervals says nothing. It gives nil where there is no energy.
func (m *Model) accounts(observations []observation, energy []Energy) []account {
	known := m.takeEnergy(energy)
	if len(known) == 0 {
		return nil
	}
	accounts := make([]account, 0, len(observations)+len(known))
	for _, o := range observations {
		accounts = append(accounts, account{Interval: o.Interval, fuel: true, kWh: math.NaN(), specific: math.NaN()})
	}
	at := 0
	for _, e := range known {
		near := min(sameMoment, (e.End-e.Start)/4)
		for at < len(observations) && observations[at].End < e.Start+near {
			at++
		}
		next := math.Inf(1)
		if at < len(observations) {
			next = observations[at].Start
		}
		switch {
		case math.Abs(next-e.Start) <= near && math.Abs(observations[at].End-e.End) <= near:
			accounts[at].meet(e.KWh)
		case e.KWh > 0 && e.End <= next+near:
			alone := Interval{Start: e.Start, End: min(e.End, m.origin)}
			if m.known.standsBy(alone) { // its fuel was left aside
				continue
			}
			accounts = append(accounts, account{Interval: alone, kWh: e.KWh, specific: math.NaN(), verdict: missing})
		}
	}
	slices.SortStableFunc(accounts, func(a, b account) int { return cmp.Compare(a.Start, b.Start) })
	return accounts
}

// takeEnergy sorts the energy of the last years that ends by the origin and can be read.
func (m *Model) takeEnergy(energy []Energy) []Energy {
	known := make([]Energy, 0, len(energy))
	for _, e := range energy {
		span := Interval{Start: e.Start, End: e.End}
		if span.defect() == "" && e.KWh >= 0 && !math.IsInf(e.KWh, 1) && e.End <= m.origin+1e-9 && e.Start >= m.origin-oldestDays {
			known = append(known, e)
		}
	}
	slices.SortStableFunc(known, func(a, b Energy) int { return cmp.Compare(a.Start, b.Start) })
	return known
}

// meet adds the energy of an interval to its fuel.
func (a *account) meet(kWh float64) {
	a.kWh = kWh
	switch {
	case a.Litres > 0 && kWh > 0:
		a.specific = math.Log(float64(a.Litres) / kWh)
	case a.Litres == 0 && kWh == 0:
		a.verdict = idle
	case a.Litres <= 0 && kWh > 0 && a.Sigma == 0:
		a.verdict = missing
	}
}
