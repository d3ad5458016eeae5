package inventory

import (
	"math"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
)

// A slip of the hand is named only where it brings a dip to where the tank stood by what is known to have left and come in:
// some whole mark or other brings nearly any dip to somewhere between all and nothing. Common practice, no source.
const (
	runMargin   = 0.05 // share of a metered run by which the tanks may have lost more or less
	usualMargin = 0.5  // the same of what usually leaves, where no meter says it
	slipAtLeast = 1.0  // times the width of the likely range that a slip has to move the dip
)

// litreRange is a range of litres at 15 °C, its ends included.
type litreRange struct{ low, high float64 }

func (r litreRange) middle() float64          { return (r.low + r.high) / 2 }
func (r litreRange) has(v float64) bool       { return v >= r.low && v <= r.high }
func (r litreRange) explains(by float64) bool { return math.Abs(by) >= slipAtLeast*(r.high-r.low) }

// likely gives between what litres a tank stood at a gauging by the gaugings before and after it and by what left and came
// in meanwhile; ok is false where neither way is known.
func (l *tankLine) likely(before, g, after *measuredGauging) (r litreRange, ok bool) {
	r = litreRange{math.Inf(-1), math.Inf(1)}
	if before != nil {
		if less, known := l.net(before.At, g.At); known {
			tight := l.tight(before, g)
			r, ok = litreRange{before.fuel() - less.high - tight, before.fuel() - less.low + tight}, true
		}
	}
	if after != nil {
		if less, known := l.net(g.At, after.At); known {
			tight := l.tight(after, g)
			back := litreRange{after.fuel() + less.low - tight, after.fuel() + less.high + tight}
			r, ok = litreRange{math.Max(r.low, back.low), math.Min(r.high, back.high)}, true
		}
	}
	return r, ok && r.low <= r.high
}

// net is what a tank lost between two moments, less what came in.
func (l *tankLine) net(from, to time.Time) (lost litreRange, ok bool) {
	if anyWithin(l.resets, from, to) {
		return lost, false
	}
	run, metered := l.ranBetween(from, to)
	margin := runMargin
	if !metered {
		if run, _, ok = l.out.between(from, to); !ok {
			return lost, false
		}
		margin = usualMargin
	}
	lost = litreRange{run*(1-margin) - l.buffers, run*(1+margin) + l.buffers}
	if len(l.sisters) > 1 { // another may have given it all
		lost.low = math.Min(lost.low, -l.buffers)
	}
	if metered {
		lost.high += l.drawnWithin(from, to)
	}
	for _, d := range l.deliveriesWithin(from.Add(-sameRound), to.Add(sameRound)) {
		if !l.brings(d) || d.Tank != "" && d.Tank != l.tank.ID {
			continue
		}
		inside := d.At.After(from.Add(sameRound)) && d.At.Before(to.Add(-sameRound))
		if !inside || d.Tank == "" && len(l.sisters) > 1 {
			return lost, false // nobody knows on which side of the dip it came, or how much of it
		}
		var ignored notice.List
		came := l.at15(d.Measure, "", &ignored)
		lost = litreRange{lost.low - came*(1+runMargin), lost.high - came*(1-runMargin)}
	}
	in, out := l.movedIn(l.tank.ID, from.Add(-sameRound), to.Add(sameRound)), l.movedOut(l.tank.ID, from, to)
	return litreRange{lost.low - in, lost.high + out}, true
}

// tight is by how much two gaugings of a tank may differ by the errors of their own, the table's on what it rose or fell.
func (l *tankLine) tight(a, b *measuredGauging) float64 {
	return 3 * math.Sqrt(a.ownVariance()+b.ownVariance()+square(tanks.TablePrecision*(a.fuel()-b.fuel())))
}
