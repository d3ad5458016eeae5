package lots

import "math"

// row is a limit of several lots together: Σ (litre·amount + use·[used]) ≤ most.
type row struct {
	litre, use perWindow
	most       float64
	limit      int // its place in the plant's list
}

// limits turns a plant's limits into rows.
func (l *line) limits(p *Plant) []row {
	var rows []row
	for i, limit := range p.Limits {
		inLitres, inMoney := row{limit: i}, row{limit: i}
		for _, w := range limit.Windows {
			inLitres.litre[w] = 1
			inMoney.litre[w], inMoney.use[w] = float64(p.Windows[w].Price), float64(p.Windows[w].Fixed)
		}
		if limit.Litres != nil {
			inLitres.most = float64(*limit.Litres)
			rows = append(rows, inLitres)
		}
		if limit.Money != nil {
			inMoney.most = float64(*limit.Money)
			rows = append(rows, inMoney)
		}
	}
	return rows
}

// at is what a row says in a node: the weight of each lot, where a window's use is spread over its largest lot as long as it is undecided,
// and what the uses decided leave of the limit.
func (r *row) at(s *search, n *node) (weight perWindow, left float64) {
	left = r.most
	for w := range s.n {
		weight[w] = r.litre[w]
		switch {
		case n.used>>w&1 == 1:
			left -= r.use[w]
		case n.high.lot[w] > 0:
			weight[w] += r.use[w] / n.high.lot[w]
		}
	}
	return weight, left
}

// slack is what amounts leave of a row in a node.
func (r *row) slack(s *search, n *node, a *amounts) (left, tiny float64) {
	weight, left := r.at(s, n)
	tiny = precision * (math.Abs(r.most) + math.Abs(left))
	for w := range s.n {
		left -= weight[w] * a.lot[w]
		tiny += weight[w] * (precision*a.lot[w] + s.tiny)
	}
	return left, tiny
}

// keepsLimits tells whether amounts keep every limit in a node.
func (s *search) keepsLimits(n *node, a *amounts) bool {
	for i := range s.rows {
		if left, tiny := s.rows[i].slack(s, n, a); left < -tiny {
			return false
		}
	}
	return true
}

// cheapestAmounts finds the cheapest amounts of a node, limits included. Where those that know no limits keep them, they are the
// answer; else the linear problem is solved as a whole.
func (s *search) cheapestAmounts(n *node, a *amounts) bool {
	return s.fill(&n.box, a) && (s.keepsLimits(n, a) || s.solve(n, a))
}

// solve finds the cheapest amounts of a node as a linear problem in what each amount is above its least; false where there are none. It leaves the
// amounts as they were where the method does not come to an end, for rounding: they are a bound all the same.
func (s *search) solve(n *node, a *amounts) bool {
	t := newTableau(2 * s.n)
	above := func(low, high float64, at int) {
		if math.IsInf(high, 1) {
			return
		}
		var unit [2 * MostWindows]float64
		unit[at] = 1
		t.add(&unit, high-low)
	}
	var upTo [2 * MostWindows]float64 // 1 for every source so far
	sum := 0.0
	for w := range s.n {
		t.cost[2*w], t.cost[2*w+1] = n.price[w], s.flyPrice[w]
		above(n.low.lot[w], n.high.lot[w], 2*w)
		high := n.high.fallback[w]
		if math.IsInf(s.flyPrice[w], 1) {
			t.cost[2*w+1], high = 0, n.low.fallback[w]
		}
		above(n.low.fallback[w], high, 2*w+1)
		upTo[2*w] = 1
		sum += n.low.lot[w]
		if !math.IsInf(s.room[w], 1) {
			t.add(&upTo, s.room[w]-sum)
		}
		upTo[2*w+1] = 1
		sum += n.low.fallback[w]
		var enough [2 * MostWindows]float64
		for j := range 2*w + 2 {
			enough[j] = -1
		}
		t.add(&enough, sum-s.need[w])
	}
	for i := range s.rows {
		weight, left := s.rows[i].at(s, n)
		var r [2 * MostWindows]float64
		for w := range s.n {
			r[2*w] = weight[w]
			left -= weight[w] * n.low.lot[w]
		}
		t.add(&r, left)
	}
	y, end := t.minimum(s.tiny)
	if end != solved {
		return end == givenUp
	}
	for w := range s.n {
		a.lot[w] = n.low.lot[w] + y[2*w]
		a.fallback[w] = n.low.fallback[w] + y[2*w+1]
	}
	return true
}
