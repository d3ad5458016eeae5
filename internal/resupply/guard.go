package resupply

import (
	"math"

	"overwinter/internal/calendar"
)

// tooLate marks a path on which no order day would do.
const tooLate = math.MinInt32

// Guard names what sets a last day to order.
type Guard string

// The guards of the reorder date.
const (
	ReserveGuard  Guard = "reserve"  // later, the fuel would come after stock reached the reserve
	WindowGuard   Guard = "window"   // later, the window would close before the fuel came
	DeadlineGuard Guard = "deadline" // the supplier's own order deadline
	SoonestGuard  Guard = "soonest"  // later, the fuel would come after that of an order placed today
)

// Last is the last day to order under one guard, and the path that decides it.
type Last struct {
	Guard Guard
	Day   int // may be negative: it has passed; tooLate where no day would do
	Path  int
}

// reserveLast gives, path by path, the last day on which an order still arrives by the day the stock
// reaches the reserve: arrival = max(opening, order day + lead) + slip ≤ reserve day.
func reserveLast(w *Window, reserveDay []int) []int {
	return perPath(len(reserveDay), func(s int) int { return w.lastFor(s, reserveDay[s]) })
}

// windowLast gives, path by path, the last day on which an order still arrives before the window closes.
func windowLast(w *Window) []int {
	return perPath(len(w.Opens), func(s int) int { return w.lastFor(s, w.Closes[s]) })
}

// lastFor gives the last day on which an order still arrives by a day on a path.
func (w *Window) lastFor(path, day int) int {
	switch {
	case w.Opens[path] == Never || w.Opens[path]+w.Slip[path] > day:
		return tooLate
	case day == Never:
		return Never
	}
	return day - w.Slip[path] - w.Lead[path]
}

// doubtful tells that the window may be lost so often that little of the risk target is left: no lot
// from it alone holds the target.
func (p *Problem) doubtful(w *Window) bool { return w.LossChance > p.Risk/2 }

// leftForLateness is what a window that may be lost leaves of the risk target for coming too late: the
// target less the chance of losing it, so that both together keep the target. A doubtful window is no
// bound: its guards are those of the paths on which it opens, the answer says that the window alone does
// not hold the target, and the replay counts what it comes to.
func (p *Problem) leftForLateness(w *Window) float64 {
	if p.doubtful(w) {
		return p.Risk
	}
	return p.Risk - w.LossChance
}

// guards gives the last order day under both guards over the paths on which the window opens, and the
// supplier's deadline where there is one.
func (p *Problem) guards(w *Window, reserveDay []int) (reserve, window Last, deadline *Last) {
	risk := p.leftForLateness(w)
	reserve = w.last(ReserveGuard, reserveLast(w, reserveDay), risk)
	window = w.last(WindowGuard, windowLast(w), risk)
	if w.OrderBy != nil {
		deadline = &Last{Guard: DeadlineGuard, Day: *w.OrderBy, Path: window.Path}
	}
	return reserve, window, deadline
}

// last bounds the order days of the paths on which the window opens.
func (w *Window) last(guard Guard, days []int, risk float64) Last {
	var open, paths []int
	for s, d := range days {
		if w.Opens[s] != Never {
			open, paths = append(open, d), append(paths, s)
		}
	}
	if open == nil {
		return Last{Guard: guard, Day: tooLate}
	}
	b := bound(open, risk)
	return Last{Guard: guard, Day: b.value, Path: paths[b.path]}
}

// Date gives the last day as a date, nil where no day would do or any would.
func (l Last) Date(asOf calendar.Day) *calendar.Day {
	if l.Day == Never || l.Day == tooLate {
		return nil
	}
	d := asOf + calendar.Day(l.Day)
	return &d
}

// earliest gives the guard that binds; nil ones are passed over.
func earliest(first Last, others ...*Last) Last {
	for _, o := range others {
		if o != nil && o.Day < first.Day {
			first = *o
		}
	}
	return first
}
