package lots

import "math"

// box is what a part of the search leaves open: bounds of every amount and the price of every lot.
type box struct {
	low, high amounts
	price     perWindow // of a lot; the fallback's is the line's
}

// fill finds the cheapest amounts within a box, limits and steps left aside: in the order of time each deficit is met from the cheapest source
// up to then that has lot and room left. It is false where a need cannot be met.
//
// That nothing is ever taken back is no neglect. The amounts are a flow along the line: each source brings fuel in at its place, an arc leads from
// place to place and carries the sum so far, within that place's bounds. Prices are 0 or more, so the least amounts are the best flow while no
// need is asked for. Asking for more at place w is one more unit over the arc that leaves it, and stays best if the unit takes the cheapest way round in the
// residual network (Busacker and Gowen 1960; Ahuja, Magnanti and Orlin, Network Flows, 1993, 9.7). Sources after w are
// still at their least, so nothing can leave there, and a way that reaches w from behind would use the arc of w against the unit itself; what is left is one
// source up to w, raised, with room on every arc from there to the end.
func (l *line) fill(b *box, a *amounts) bool { return l.pour(b, a, false) }

// fillWhole finds amounts in whole steps the same way, which then need not be the cheapest.
func (l *line) fillWhole(b *box, a *amounts) bool { return l.pour(b, a, true) }

func (l *line) pour(b *box, a *amounts, inSteps bool) bool {
	*a = b.low
	f := filling{line: l, box: b, amounts: a, inSteps: inSteps}
	if !f.start() {
		return false
	}
	for w := range l.n {
		for missing := l.need[w] - f.before[w] - f.added; missing > l.tiny; {
			s := f.cheapest(w)
			if s.most <= l.tiny {
				return false
			}
			x := min(s.most, missing)
			if inSteps {
				x = min(s.most, up(missing, s.step))
			}
			if x == 0 { // less than the rounding of a step is missing
				break
			}
			f.raise(s, x)
			missing -= x
		}
	}
	return true
}

// filling is the state of a fill.
type filling struct {
	*line
	box     *box
	amounts *amounts
	inSteps bool
	before  perWindow // least amounts up to the end of the interval
	added   float64   // above the least amounts, all of it from the intervals seen so far
	room    perWindow // left at the arrival
	free    perWindow // the least room from this arrival on
}

// start finds what the least amounts deliver and leave; false where they break a bound themselves.
func (f *filling) start() bool {
	low, high := &f.box.low, &f.box.high
	sum := 0.0
	for w := range f.n {
		if high.lot[w] < low.lot[w]-f.tiny || high.fallback[w] < low.fallback[w]-f.tiny {
			return false
		}
		sum += low.lot[w]
		f.room[w] = f.line.room[w] - sum
		sum += low.fallback[w]
		f.before[w] = sum
	}
	f.least(f.n - 1)
	return f.free[0] >= -f.tiny
}

// least finds the least room from each arrival on, up to one; those after it are known.
func (f *filling) least(from int) {
	for w := from; w >= 0; w-- {
		f.free[w] = f.room[w]
		if w+1 < f.n {
			f.free[w] = min(f.free[w], f.free[w+1])
		}
	}
}

// source is a lot or a fallback that can be raised.
type source struct {
	at    int
	flown bool
	most  float64 // by which it can be raised
	step  float64
}

// cheapest finds the cheapest source up to the end of an interval that can be raised; of equals a lot before a fallback, and the
// earlier one, since fuel in the tank is safer than fuel to come. Its most is 0 where there is none.
func (f *filling) cheapest(w int) source {
	var best source
	price := math.Inf(1)
	offer := func(s source, at float64) {
		if f.inSteps {
			s.most = down(s.most, s.step)
		}
		if s.most > f.tiny {
			best, price = s, at
		}
	}
	for k := range w + 1 {
		if f.box.price[k] < price {
			offer(source{k, false, min(f.box.high.lot[k]-f.amounts.lot[k], f.free[k]), f.step[k]}, f.box.price[k])
		}
	}
	for k := range w + 1 {
		if f.flyPrice[k] < price {
			most := f.box.high.fallback[k] - f.amounts.fallback[k]
			if k+1 < f.n {
				most = min(most, f.free[k+1])
			}
			offer(source{k, true, most, f.load[k]}, f.flyPrice[k])
		}
	}
	return best
}

// raise takes more from a source, which takes up room at every arrival after it.
func (f *filling) raise(s source, x float64) {
	first := s.at
	if s.flown {
		f.amounts.fallback[s.at] += x
		first++
	} else {
		f.amounts.lot[s.at] += x
	}
	for w := first; w < f.n; w++ {
		f.room[w] -= x
		f.free[w] -= x
	}
	f.least(first - 1)
	f.added += x
}

// cost is what amounts cost at a box's prices, without fixed costs.
func (l *line) cost(b *box, a *amounts) float64 {
	sum := 0.0
	for w := range l.n {
		sum += b.price[w] * a.lot[w]
		if a.fallback[w] > 0 {
			sum += l.flyPrice[w] * a.fallback[w]
		}
	}
	return sum
}
