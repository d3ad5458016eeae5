package forecast

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"overwinter/internal/calendar"
)

const (
	leastPast   = 540 // days of history before a past origin, so that its forecast is of a plant that is known
	leastScores = 40  // scores below which the standard spread stands
	// scoresShare is the part of the scores that counts: spans overlap, and the plants of one year share its
	// weather and its prices.
	scoresShare   = 0.1
	leastCovered  = 0.8  // of a span that must be measured to be scored
	standardCount = 10.0 // plants that the standard laws count for beside those of the fleet
	lawRounds     = 20
	// mostCalibrated is from how many plants of a large fleet the calibration is learned, evenly through its order:
	// more would cost time and tell nothing new.
	mostCalibrated = 400
)

// pastOrigins are how many days before the origin the past forecasts start. The step between them divides neither the
// year nor a horizon.
var pastOrigins = []int{183, 335, 487, 639, 791, 943, 1095}

// pastHorizons are the days ahead for which they are scored.
var pastHorizons = []int{91, 182, 365}

// Calibrate learns from a fleet what Calibration holds, with nothing that ends after the end of day origin:
// the laws by empirical Bayes on the evidence of all plants; the spread by forecasts from origins
// in the past, whose outcomes are scored by where they fall in the predictive distribution. Lent is what each
// plant lends, in the order of the fleet, and groups holds it by climate group. The cost is some eight fits a plant,
// spread over the cores; the result does not depend on their number.
func Calibrate(fleet []Series, origin calendar.Day, lent []*Lent, groups map[string]*Group) Calibration {
	c := Standard()
	step := (len(fleet) + mostCalibrated - 1) / mostCalibrated
	count := 0
	if step > 0 {
		count = (len(fleet) + step - 1) / step
	}
	evidence, faults := make([][]float64, count), make([][]Fault, count)
	facts, levels := make([]Facts, count), make([]float64, count)
	inParallel(count, func(n int) {
		i := n * step
		m := Fit(fleet[i], origin, lent[i], groups[fleet[i].Group], c)
		facts[n], levels[n] = fleet[i].Facts, math.NaN()
		if m.evidence != nil && !m.erratic { // a guess is no evidence, and what displaces fuel says nothing of other plants
			evidence[n], faults[n], levels[n] = m.evidence, m.faults, m.typical()
		}
	})
	c.Laws = fleetLaws(evidence)
	c.learnSizes(facts, levels)
	plain := c
	plain.Scales = []float64{1}
	past := replay{origin, groups, plain}
	scores := make([][]float64, count)
	inParallel(count, func(n int) {
		if evidence[n] == nil { // displaced fuel may not show yet in a shorter past
			return
		}
		i := n * step
		for _, before := range pastOrigins {
			scores[n] = append(scores[n], past.scores(fleet[i], faults[n], origin-calendar.Day(before), lent[i])...)
		}
	})
	if all := slices.Concat(scores...); len(all) >= leastScores {
		c.Scales = fleetScales(all)
	}
	return c
}

// fleetLaws finds the distribution of laws under which the histories of all plants are most probable, by
// expectation and maximisation: N. Laird, "Nonparametric maximum likelihood estimation of a mixing
// distribution", Journal of the American Statistical Association 73 (1978). The standard laws take part as some plants.
func fleetLaws(evidence [][]float64) []float64 {
	standard := standardLaws()
	weights := slices.Clone(standard)
	for range lawRounds {
		next := make([]float64, len(laws))
		for i, w := range standard {
			next[i] = standardCount * w
		}
		for _, own := range evidence {
			if own == nil || math.IsInf(slices.Max(own), -1) {
				continue // no law fits
			}
			logs := make([]float64, len(laws))
			for i, e := range own {
				logs[i] = e + math.Log(weights[i])
			}
			for i, w := range softmax(logs) {
				next[i] += w
			}
		}
		weights = normalised(next)
	}
	return weights
}

// replay forecasts plants from the past. The season that a plant borrows is that of today: it hardly changes, and to
// find it anew for each origin would double the cost.
type replay struct {
	origin calendar.Day
	groups map[string]*Group
	plain  Calibration // as wide as the model says
}

// scores forecasts a plant from a past origin and gives, for each horizon whose span was measured well
// enough, the normal score of its outcome: 0 at the median, 1.96 at the 97.5 % quantile. Faults are its intervals
// that look faulty today.
func (r replay) scores(s Series, faults []Fault, past calendar.Day, own *Lent) (scores []float64) {
	start := float64(past) + 1
	m := Model{origin: start}
	if known := m.take(s.Intervals); len(known) == 0 || start-known[0].Start < leastPast {
		return nil
	}
	m = Fit(s, past, own, r.groups[s.Group], r.plain)
	for _, horizon := range pastHorizons {
		if past+calendar.Day(horizon) > r.origin {
			continue
		}
		spans, burned := outcome(s.Intervals, faults, &m.known, start, start+float64(horizon))
		if m.err != nil || m.erratic || covered(spans) < leastCovered*float64(horizon) {
			continue
		}
		below := 0.0
		for _, p := range m.parts(spans...) {
			below += p.weight * p.below(math.Log(burned))
		}
		scores = append(scores, distuv.UnitNormal.Quantile(min(max(below, 1e-9), 1-1e-9)))
	}
	return scores
}

// outcome gathers what was measured inside a span, without what looks faulty today or was a declared standby.
func outcome(intervals []Interval, faults []Fault, k *known, start, end float64) (spans []Span, burned float64) {
	for _, i := range intervals {
		faulty := slices.ContainsFunc(faults, func(f Fault) bool { return f.Interval == i })
		standsBy := i.Litres == 0 && i.Sigma == 0 || k.standsBy(i) // a standby that nobody declared is none that a forecast knows of
		if !faulty && !standsBy && i.defect() == "" && i.Start >= start && i.End <= end {
			spans = append(spans, Span{i.Start, i.End})
			burned += float64(i.Litres)
		}
	}
	return spans, burned
}

// fleetScales gives the scales of the Student's distribution that the scores follow best, with the standard one as
// what is believed before: the log of the scale within 0.1, the freedom within a factor of two, as standard deviations. A
// fleet's past can widen the standard spread but not narrow it: its few years share weather and prices, and what has
// not happened yet is in none of them.
func fleetScales(scores []float64) []float64 {
	best, scale, freedom := math.Inf(-1), usualScale, usualFreedom
	for nu := usualFreedom; nu >= 3; nu -= 0.25 {
		for c := usualScale; c < 1.8; c += 0.02 {
			octaves, off := math.Log2(nu/usualFreedom), math.Log(c/usualScale)/0.1
			fit := -(octaves*octaves + off*off) / 2
			d := distuv.StudentsT{Sigma: c, Nu: nu}
			for _, z := range scores {
				fit += scoresShare * d.LogProb(z)
			}
			if fit > best {
				best, scale, freedom = fit, c, nu
			}
		}
	}
	return tailScales(scale, freedom)
}

// inParallel does work for 0 to n-1 on all cores.
func inParallel(n int, work func(i int)) {
	turns := make(chan int)
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			for i := range turns {
				work(i)
			}
		})
	}
	for i := range n {
		turns <- i
	}
	close(turns)
	group.Wait()
}
