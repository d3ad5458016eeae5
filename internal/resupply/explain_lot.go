package resupply

import "fmt"

// lotSteps says how the lot follows from what is needed, what there is room for and what the route
// brings.
func (o *Order) lotSteps() []string {
	l, limits := o.Lot, o.Window.Lot
	if l.Least == 0 {
		return []string{"at the risk target the stock carries past this window to the following one: no lot is needed from it"}
	}
	until := "to the following window"
	if l.Cut {
		until = "to the end of the horizon, since no following window is in sight on many paths"
	}
	steps := []string{
		fmt.Sprintf("at least %.0f L on arrival carry the plant %s at the risk target", l.Least, until),
		fmt.Sprintf("on arrival there is room for %.0f L at the risk target, for fuel as warm as it may get", l.Room),
	}
	if limits.Max > 0 {
		steps = append(steps, fmt.Sprintf("the route brings at most %.0f L at a time", limits.Max))
	}
	return append(steps, fmt.Sprintf("lot %.0f L: %s", l.Lot, o.lotReason()))
}

// lotReason says what sets the lot.
func (o *Order) lotReason() string {
	l := o.Lot
	switch {
	case l.Lot < l.Least && l.Limit == LeastLimit:
		return "there is no room for the route's smallest lot or step"
	case l.Lot < l.Least:
		return fmt.Sprintf("%s keeps it under what is needed", l.Limit)
	case l.Lot > l.Least:
		return "what is needed, raised to the route's smallest lot and step"
	}
	return "what is needed"
}

// shortCauses says of each window up to one why no order from it keeps the reserve.
func (p *Problem) shortCauses(until int, reserveDay []int) []string {
	if len(p.Windows) == 0 {
		return []string{"no route but a fallback serves the plant"}
	}
	var causes []string
	for i := range p.Windows[:until+1] {
		w := &p.Windows[i]
		name := w.Route + " " + w.Name
		if !w.AllYear {
			name += " from " + w.Opening.String()
		}
		causes = append(causes, fmt.Sprintf("%s: %s", name, p.shortCause(w, reserveDay)))
	}
	return causes
}

// shortCause says why no order from a window keeps the reserve.
func (p *Problem) shortCause(w *Window, reserveDay []int) string {
	reserve, shuts, deadline := p.guards(w, reserveDay)
	switch {
	case w.neverOpens():
		return "does not open on any path"
	case deadline != nil && deadline.Day < 0:
		return fmt.Sprintf("the supplier's own order deadline, %s, has passed", *p.date(deadline.Day))
	case shuts.Day == tooLate:
		return "it may shut before its fuel can come, whenever that is ordered"
	case shuts.Day < 0:
		return fmt.Sprintf("the last day to order before it may shut, %s, has passed", *p.date(shuts.Day))
	case reserve.Day == tooLate:
		return "it may open too late: the reserve is reached before its fuel can come"
	}
	return fmt.Sprintf("the last day to order for the reserve, %s, has passed", *p.date(reserve.Day))
}

func (w *Window) neverOpens() bool {
	for _, day := range w.Opens {
		if day != Never {
			return false
		}
	}
	return true
}
