package resupply

// jointly finds an order where the guards, each taken alone and with a chance of loss set apart, leave no
// day, and yet both together keep the risk target. It reports false where there is none: the plant is
// short.
func (p *Problem) jointly(d *Decision, reserveDay []int) bool {
	o := p.firstReachable()
	if o == nil {
		return false
	}
	allowed := Allowed(p.Burn.Count(), p.Risk)
	if len(comesLate(o.Window, reserveDay, 0)) > allowed {
		return false
	}
	for o.By.Day > 0 && len(comesLate(o.Window, reserveDay, o.By.Day)) > allowed {
		o.By.Day--
	}
	if s := tightest(o.Window, reserveDay, o.By.Day); s >= 0 {
		o.By = Last{ReserveGuard, o.By.Day, s}
	}
	o.Reserve = Last{ReserveGuard, o.By.Day, o.By.Path}
	p.size(o, o.By.Day)
	d.Order = o
	return true
}

// comesLate lists the paths on which fuel ordered on a day does not come, or comes after the reserve is reached.
func comesLate(w *Window, reserveDay []int, ordered int) (paths []int) {
	for s := range reserveDay {
		if a := w.Arrival(s, ordered); a == Never || a > reserveDay[s] {
			paths = append(paths, s)
		}
	}
	return paths
}

// tightest is the path on which the reserve is reached first of those on which fuel ordered on a day comes
// in time; −1 where it is reached on none of them.
func tightest(w *Window, reserveDay []int, ordered int) int {
	path := -1
	for s, day := range reserveDay {
		if day == Never || w.Arrival(s, ordered) > day {
			continue
		}
		if path < 0 || day < reserveDay[path] {
			path = s
		}
	}
	return path
}
