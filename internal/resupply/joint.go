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
	o.Reserve = Last{ReserveGuard, o.By.Day, o.By.Path}
	for _, s := range comesLate(o.Window, reserveDay, o.By.Day+1) {
		if reserveDay[s] != Never { // a day later this path would be late for its reserve
			o.By = Last{ReserveGuard, o.By.Day, s}
			o.Reserve = o.By
			break
		}
	}
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
