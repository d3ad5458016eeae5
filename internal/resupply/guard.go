package resupply

import "math"

// tooLate marks a path on which no order day would do.
const tooLate = math.MinInt32

// Guard names what sets a last day to order.
type Guard string

// The guards of the reorder date.
const (
	ReserveGuard  Guard = "reserve"  // later, the fuel would come after stock reached the reserve
	WindowGuard   Guard = "window"   // later, the window would shut before the fuel came
	DeadlineGuard Guard = "deadline" // the supplier's own order deadline
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
	return perPath(len(reserveDay), func(s int) int {
		switch {
		case w.Opens[s] == Never || w.Opens[s]+w.Slip[s] > reserveDay[s]:
			return tooLate
		case reserveDay[s] == Never:
			return Never
		}
		return reserveDay[s] - w.Slip[s] - w.Lead[s]
	})
}

// windowLast gives, path by path, the last day on which an order still arrives before the window shuts.
func windowLast(w *Window) []int {
	return perPath(len(w.Opens), func(s int) int {
		if w.Opens[s] == Never || w.Opens[s]+w.Slip[s] > w.Closes[s] {
			return tooLate
		}
		return w.Closes[s] - w.Slip[s] - w.Lead[s]
	})
}

// unreliable tells that the window is lost more often than the risk target, certified on so many paths,
// leaves room for: no lot from it alone can hold the target, so the guards are reckoned over the paths
// on which it does open.
func (p *Problem) unreliable(w *Window) bool {
	n := p.Burn.Count()
	return w.FailChance*float64(n) > float64(max(Allowed(n, p.Risk), 0))
}

// guards gives the last order day under both guards, and the supplier's deadline where there is one.
func (p *Problem) guards(w *Window, reserveDay []int) (reserve, window Last, deadline *Last) {
	open := func(s int) bool { return !p.unreliable(w) || w.Opens[s] != Never }
	reserve = last(ReserveGuard, reserveLast(w, reserveDay), open, p.Risk)
	window = last(WindowGuard, windowLast(w), open, p.Risk)
	if w.OrderBy != nil {
		deadline = &Last{Guard: DeadlineGuard, Day: *w.OrderBy, Path: window.Path}
	}
	return reserve, window, deadline
}

// last bounds the order days of the paths that count.
func last(guard Guard, days []int, counts func(path int) bool, risk float64) Last {
	var kept, paths []int
	for s, d := range days {
		if counts(s) {
			kept, paths = append(kept, d), append(paths, s)
		}
	}
	if kept == nil {
		return Last{Guard: guard, Day: tooLate}
	}
	b := bound(kept, risk)
	return Last{Guard: guard, Day: b.value, Path: paths[b.path]}
}

// earliest gives the guard that binds.
func earliest(reserve, window Last, deadline *Last) Last {
	binding := reserve
	if window.Day < binding.Day {
		binding = window
	}
	if deadline != nil && deadline.Day < binding.Day {
		binding = *deadline
	}
	return binding
}
