package resupply

// jointly finds an order where the guards, each taken alone and with a chance of loss set apart, leave no
// day, and yet both together keep the risk target: over all paths, no more than the allowed number see its
// fuel fail, or come after their reserve is reached. It is nil where there is none: the plant is short.
func (p *Problem) jointly(reserveDay []int) *Order {
	o := p.firstReachable()
	if o == nil {
		return nil
	}
	both := bound(perPath(len(reserveDay), func(s int) int {
		return o.Window.lastFor(s, min(reserveDay[s], o.Window.Closes[s]))
	}), p.Risk)
	last := Last{Guard: ReserveGuard, Day: both.value, Path: both.path}
	if o.Window.Closes[both.path] < reserveDay[both.path] {
		last.Guard = WindowGuard
	}
	if last.Day < 0 {
		return nil
	}
	if last.Day < o.By.Day {
		o.By, o.due = last, last.Day
	}
	o.Reserve = Last{ReserveGuard, o.By.Day, o.By.Path}
	p.size(o, o.By.Day)
	return o
}
