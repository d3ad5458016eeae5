package forecast

import (
	"math"
	"slices"
)

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
	return f.observations[i].named && !f.rows[i].coarse && math.Abs(r) < math.Log(stepMost) &&
		math.Abs(r-f.rows[from].residual) < stepAgreement
}

func (f *fit) allowJump(moment float64) {
	left, _ := f.knots.weigh(moment)
	f.jumps[left] = jumpVariance
}

// admitJump looks for a step of load that the drifting level could only follow slowly, and whose intervals
// are too near to name: it lets the level jump where that adds most to the evidence, if it adds enough.
func (f *fit) admitJump() bool {
	factor, ok := f.step()
	if !ok {
		return false
	}
	base, level, mean := f.evidence(factor), slices.Clone(f.level), f.season
	best, most := -1, jumpEvidence
	steepest := f.steepestGap()
	for gap := max(steepest-1, 0); gap <= min(steepest+1, len(f.jumps)-1); gap++ {
		if f.jumps[gap] > 0 {
			continue
		}
		f.jumps[gap] = jumpVariance
		if factor, ok := f.step(); ok {
			if gain := f.evidence(factor) - base; gain > most {
				best, most = gap, gain
			}
		}
		f.jumps[gap] = 0
		copy(f.level, level)
		f.season = mean
		f.linearise()
	}
	if best >= 0 {
		f.jumps[best] = jumpVariance
	}
	return best >= 0
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
