package forecast

import (
	"math"
	"slices"
)

const (
	leastSpecific  = 6    // intervals with fuel and energy that tell a specific consumption
	nearPairs      = 6    // so many either way,
	nearDays       = 14.0 // or those of so many days, make its local level
	meterSD        = 0.01 // its least standard deviation: the meters' own
	specificDrift  = 0.05 // standard deviation of its change in a year, in logs
	medianVariance = math.Pi / 2

	stepPairs  = 3    // so many at least on both sides of a step,
	stepBeyond = 5.0  // whose medians differ by so many standard deviations
	stepRatio  = 1.08 // and by this factor
	mostSteps  = 12
)

// pair is an interval with fuel and energy: its middle, and ln(litres/kWh).
type pair struct{ at, specific float64 }

// specificLevel is the local level of a plant's specific consumption: running medians of ln(litres/kWh), which a step
// cuts. A step is an engine that is swapped, or a meter that counts otherwise. The variance of a median of n normal values is
// π/2 of that of their mean.
type specificLevel struct {
	pairs []pair
	steps []int // the first pair after each, in order
	sd    float64

	room []float64 // for the values of which a median is taken
}

// specificConsumption works out the local level for all accounts. It reports false if too few have fuel and energy.
func specificConsumption(accounts []account) (s specificLevel, ok bool) {
	for i := range accounts {
		if a := &accounts[i]; !math.IsNaN(a.specific) {
			s.pairs = append(s.pairs, pair{(a.Start + a.End) / 2, a.specific})
		}
	}
	if len(s.pairs) < leastSpecific {
		return s, false
	}
	s.sd = s.scatter()
	for len(s.steps) < mostSteps && s.findStep() {
		s.sd = s.scatter() // which the step had widened
	}
	before := 0 // pairs before the account
	for i := range accounts {
		a := &accounts[i]
		own := !math.IsNaN(a.specific)
		level, count, away := s.at((a.Start+a.End)/2, before, own)
		a.usual, a.sd = level, math.Sqrt(s.sd*s.sd*(1+medianVariance/float64(count))+specificDrift*specificDrift*away/daysPerYear)
		if own {
			before++
		}
	}
	s.reckonBooked(accounts)
	return s, true
}

// at gives the level at a moment before pair n, or that pair's own without itself; of how many pairs it is the median, and how
// many days away the nearest of them is.
func (s *specificLevel) at(moment float64, n int, own bool) (level float64, count int, away float64) {
	from, to := s.segment(moment, n, own)
	near := s.room[:0]
	away = math.Inf(1)
	for i := n - 1; i >= from && (n-i <= nearPairs || moment-s.pairs[i].at <= nearDays); i-- {
		near, away = append(near, s.pairs[i].specific), min(away, moment-s.pairs[i].at)
	}
	if own {
		n++
	}
	for i := n; i < to && (i-n < nearPairs || s.pairs[i].at-moment <= nearDays); i++ {
		near, away = append(near, s.pairs[i].specific), min(away, s.pairs[i].at-moment)
	}
	s.room = near
	return middleOf(near), len(near), away
}

// segment gives the pairs between the steps about pair n, or about a moment just before it.
func (s *specificLevel) segment(moment float64, n int, own bool) (from, to int) {
	for _, step := range s.steps {
		after := step < n || step == n && (own || s.pairs[n].at-moment < moment-s.pairs[n-1].at)
		if !after {
			return from, step
		}
		from = step
	}
	return from, len(s.pairs)
}

// scatter gives the standard deviation of a pair about the true level, by the median of its distances from those of the others.
func (s *specificLevel) scatter() float64 {
	offs := make([]float64, len(s.pairs))
	for i, p := range s.pairs {
		level, count, _ := s.at(p.at, i, true)
		offs[i] = math.Abs(p.specific-level) / math.Sqrt(1+medianVariance/float64(count))
	}
	return max(madToSD*median(offs), meterSD)
}

// findStep finds where the medians before and after differ most, and reports whether that is a step.
func (s *specificLevel) findStep() bool {
	best, most := 0, stepBeyond
	for i := stepPairs; i <= len(s.pairs)-stepPairs; i++ {
		from, to := s.bounds(i)
		if i-from < stepPairs || to-i < stepPairs {
			continue
		}
		before, after := s.medianOf(from, i), s.medianOf(i, to)
		change := math.Abs(after - before)
		sd := s.sd * math.Sqrt(medianVariance*(1/float64(i-from)+1/float64(to-i)))
		if change > most*sd && change > math.Log(stepRatio) && s.nearer(from, i, before, after) && s.nearer(i, to, after, before) {
			best, most = i, change/sd
		}
	}
	if best == 0 {
		return false
	}
	best = s.sharpened(best)
	s.steps = append(s.steps, best)
	slices.Sort(s.steps)
	return true
}

// nearer says whether enough pairs lie nearer to the median of their own side of a step than to that of the other.
func (s *specificLevel) nearer(from, to int, own, other float64) bool {
	count := 0
	for _, p := range s.pairs[from:to] {
		if math.Abs(p.specific-own) < math.Abs(p.specific-other) {
			count++
		}
	}
	return count >= stepPairs
}

// bounds gives the pairs near a place between two, up to the next steps.
func (s *specificLevel) bounds(i int) (from, to int) {
	least, most := 0, len(s.pairs)
	for _, step := range s.steps {
		if step <= i {
			least = step
		}
		if step >= i {
			most = min(most, step)
		}
	}
	from, to = i, i
	for from > least && (i-from < nearPairs || s.pairs[i].at-s.pairs[from-1].at <= nearDays) {
		from--
	}
	for to < most && (to-i < nearPairs || s.pairs[to].at-s.pairs[i].at <= nearDays) {
		to++
	}
	return from, to
}

// sharpened moves a step to where the absolute deviations from the medians on both sides are least.
func (s *specificLevel) sharpened(i int) int {
	from, to := s.bounds(i)
	best, least := i, math.Inf(1)
	for at := from + stepPairs; at <= to-stepPairs; at++ {
		if cost := s.deviations(from, at) + s.deviations(at, to); cost < least {
			best, least = at, cost
		}
	}
	return best
}

func (s *specificLevel) medianOf(from, to int) float64 {
	s.room = s.room[:0]
	for _, p := range s.pairs[from:to] {
		s.room = append(s.room, p.specific)
	}
	return middleOf(s.room)
}

// middleOf gives the median, 0 of no values, and leaves the values sorted.
func middleOf(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	return quantileSorted(values, 0.5)
}

func (s *specificLevel) deviations(from, to int) (sum float64) {
	middle := s.medianOf(from, to)
	for _, p := range s.pairs[from:to] {
		sum += math.Abs(p.specific - middle)
	}
	return sum
}
