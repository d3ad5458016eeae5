package resupply

// shortCauses says of each window up to one why no order from it keeps the reserve.
func (p *Problem) shortCauses(until int, reserveDay []int) []Step {
	if len(p.Windows) == 0 {
		return []Step{{Kind: NoRoute}}
	}
	var causes []Step
	for i := range p.Windows[:until+1] {
		causes = append(causes, p.shortCause(&p.Windows[i], reserveDay))
	}
	return causes
}

// shortCause says why no order from a window keeps the reserve.
func (p *Problem) shortCause(w *Window, reserveDay []int) Step {
	reserve, closing, deadline := p.guards(w, reserveDay)
	switch {
	case w.neverOpens():
		return w.step(NeverOpens, nil)
	case deadline != nil && deadline.Day < 0:
		return w.step(DeadlinePassed, p.date(deadline.Day))
	case closing.Day == tooLate:
		return w.step(ClosesTooSoon, nil)
	case closing.Day < 0:
		return w.step(ClosingPassed, p.date(closing.Day))
	case reserve.Day == tooLate:
		return w.step(OpensTooLate, nil)
	}
	return w.step(ReservePassed, p.date(reserve.Day))
}

func (w *Window) neverOpens() bool {
	for _, day := range w.Opens {
		if day != Never {
			return false
		}
	}
	return true
}
