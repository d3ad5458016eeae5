package forecast

import "math"

const (
	stepIntervals = 3   // so many intervals in a row,
	stepDays      = 21  // over so many days,
	stepAgreement = 0.4 // that agree within this much in logs
	stepMost      = 3.0 // and are no farther off than this factor are a step of load, not faults

	jumpVariance = 0.25 // of a step of load in logs: half or double is one standard deviation and a bit
	jumpEvidence = 6.0  // in nats, that a jump must add: odds of 400 to one, against some 100 places where it could be
	mostJumps    = 6
)

// admitSteps looks for runs of named intervals that agree with each other: the load has stepped, and a
// forecast that left them out would stay at a level that is gone. The level may jump at both ends.
func (f *fit) admitSteps() {
	for from := 0; from < len(f.rows); {
		to := from
		for to < len(f.rows) && f.agrees(from, to) {
			to++
		}
		if to == from {
			from++
			continue
		}
		if to-from >= stepIntervals && f.observations[to-1].End-f.observations[from].Start >= stepDays {
			for i := from; i < to; i++ {
				f.observations[i].named = false
			}
			f.allowJump(f.observations[from].Start)
			if to < len(f.rows) {
				f.allowJump(f.observations[to-1].End)
			}
		}
		from = to
	}
}

// agrees says whether interval i can belong to the run of named intervals that begins at from.
func (f *fit) agrees(from, i int) bool {
	r := f.rows[i].residual
	o := &f.observations[i]
	return (o.named || o.outlying) && !f.rows[i].coarse && math.Abs(r) < math.Log(stepMost) &&
		math.Abs(r-f.rows[from].residual) < stepAgreement
}

func (f *fit) allowJump(moment float64) {
	left, _ := f.knots.weigh(moment)
	f.jumps[left] = jumpVariance
}

// admitJump looks for a step of load that the drifting level could only follow slowly, and whose intervals
// are too near to name: it lets the level jump where that adds most to the evidence, if it adds enough.
func (f *fit) admitJump() bool {
	if _, ok := f.step(); !ok {
		return false
	}
	steepest := f.steepestGap()
	var gaps []int
	for gap := max(steepest-1, 0); gap <= min(steepest+1, len(f.jumps)-1); gap++ {
		if f.jumps[gap] == 0 {
			gaps = append(gaps, gap)
		}
	}
	base, jumped := f.bestEvidence(gaps)
	best, most := -1, jumpEvidence
	for i, gap := range gaps {
		if gain := jumped[i] - base; gain > most {
			best, most = gap, gain
		}
	}
	if best >= 0 {
		f.jumps[best] = jumpVariance
		f.reduced = f.reduced[:0]
	}
	return best >= 0
}

// bestEvidence gives the evidence of the law that explains the rows best, as the level stands and with a jump at each of some gaps. A step that is not allowed for
// passes for fast drift, and the slow drift about it is seen only once it is: one law cannot judge both.
func (f *fit) bestEvidence(gaps []int) (base float64, jumped []float64) {
	base, jumped = math.Inf(-1), make([]float64, len(gaps))
	for i := range jumped {
		jumped[i] = base
	}
	systems := f.systems()
	for k := range systems { // a season has no part in steps
		s, l := &systems[k], laws[k*len(stranges)]
		l.strange = f.law.strange
		forward, evidence, ok := s.under(l)
		if !ok {
			continue
		}
		base = max(base, evidence)
		for i, gap := range gaps {
			jumped[i] = max(jumped[i], evidence+s.gainOfJump(l, gap, forward))
		}
	}
	return base, jumped
}

// gainOfJump gives what a jump adds to the evidence of a law whose factor is complete. It changes the precision by c·u·uᵀ, where u is the change of
// level over the gap, so that no new factor is needed: the formula of Sherman and Morrison for the solution and the
// matrix determinant lemma, W. W. Hager, "Updating the inverse of a matrix", SIAM Review 31 (1989).
func (s *system) gainOfJump(l law, gap int, forward []float64) float64 {
	variance := s.f.gapVariance(l, gap)
	c := 1/(variance+jumpVariance) - 1/variance
	u := make([]float64, len(forward))
	u[2*gap], u[2*gap+2] = -1, 1
	s.factor.forward(u, 2*gap, len(u))                           // nothing before
	left := max(1+c*dot(u, u), variance/(variance+jumpVariance)) // of the determinant; no less even where the rows say nothing
	change := dot(u, forward)
	return (-c*change*change/left - math.Log(left) - math.Log1p(jumpVariance/variance)) / 2
}

// steepestGap gives the gap between knots, without a jump, over which the level changes most.
func (f *fit) steepestGap() (steepest int) {
	most := -1.0
	for gap, jump := range f.jumps {
		if change := math.Abs(f.level[gap+1] - f.level[gap]); jump == 0 && change > most {
			steepest, most = gap, change
		}
	}
	return steepest
}
