package lots

import "math"

// mostNodes bounds the search for whole steps, after which the gap is told. Sets of windows are searched to the end: there are at most
// 2^MostWindows of them.
const mostNodes = 20_000

// search looks at the sets of used windows, and in each at whole steps, by branch and bound: a node leaves some windows
// undecided, whose fixed cost is spread over the largest lot, which makes the cheapest amounts of the node a lower bound. Nodes that cannot
// beat the best plan are left out.
type search struct {
	*line
	nodes int     // how many were looked at
	left  int     // how many more may be
	best  float64 // cost of the best plan; +Inf before the first
	plan  amounts
	worth float64 // how much better a plan must be to be looked for
	open  float64 // the least bound of the nodes that were given up, or were not worth it
	bound float64 // no plan costs less
}

// run searches; best is +Inf where no plan was found. Where all comes in steps a grid gives the best plan at once. Where some does, the best plan
// without steps gives a bound, and its set of windows a good plan to begin with.
func (l *line) run(nodes int) *search {
	root := l.root()
	s := &search{line: l, left: nodes, best: math.Inf(1), open: math.Inf(1)}
	if l.step == (perWindow{}) && l.load == (perWindow{}) {
		s.left = math.MaxInt
		s.begin(&root)
		s.bound = min(s.best, s.open)
		return s
	}
	if g := l.grid(); g != nil {
		s.best = g.solve(&s.plan)
		s.bound = s.best
		return s
	}
	smooth := *l
	smooth.step, smooth.load = perWindow{}, perWindow{}
	rough := smooth.run(nodes)
	s.nodes = rough.nodes
	if math.IsInf(rough.best, 1) {
		s.bound = s.best
		return s
	}
	first := root
	for w := range l.n {
		if rough.plan.lot[w] <= l.tiny {
			s.shut(&first, w)
		}
	}
	s.left = nodes / 4
	s.begin(&first)
	s.bound = rough.bound
	s.prove(root, nodes)
	if step := l.dearestStep(); s.best-s.bound > step {
		s.worth = step
		s.prove(root, nodes)
	}
	return s
}

// proved tells whether no plan is better by more than rounding.
func (s *search) proved() bool { return s.bound >= s.best*(1-precision) }

// prove searches everything and raises the bound to what was shown.
func (s *search) prove(root node, nodes int) {
	s.left, s.open = nodes, math.Inf(1)
	s.begin(&root)
	s.bound = min(s.best, max(s.open, s.bound))
}

// dearestStep is what one step or load costs at the most.
func (l *line) dearestStep() float64 {
	dearest := 0.0
	for w := range l.n {
		if l.most[w] > 0 {
			dearest = max(dearest, l.step[w]*l.lotPrice[w])
		}
		if l.load[w] > 0 {
			dearest = max(dearest, l.load[w]*l.flyPrice[w])
		}
	}
	return dearest
}

// root is the node in which nothing is decided.
func (l *line) root() node {
	var n node
	for w := range l.n {
		n.high.lot[w] = l.most[w]
		n.high.fallback[w] = math.Inf(1)
		if l.most[w] == 0 {
			n.shut |= 1 << w
		}
	}
	return n
}

// node is a part of the search.
type node struct {
	box
	used, shut uint32  // windows by bits
	amounts            // the cheapest of the box
	bound      float64 // what they cost: no plan of this part costs less
}

// begin searches a part from its root.
func (s *search) begin(root *node) {
	if s.weigh(root) {
		s.look(root)
	}
}

// weigh finds the cheapest amounts of a node and its bound; false where it cannot beat the best plan.
func (s *search) weigh(n *node) bool {
	s.nodes++
	fixed := s.prices(n)
	if !s.cheapestAmounts(n, &n.amounts) {
		return false
	}
	n.bound = fixed + s.cost(&n.box, &n.amounts)
	return s.beats(n)
}

// beats tells whether a node can hold a plan that is worth looking for.
func (s *search) beats(n *node) bool {
	switch {
	case math.IsInf(s.best, 1) || n.bound < s.best*(1-precision)-s.worth:
		return true
	case s.worth > 0:
		s.open = min(s.open, n.bound)
	}
	return false
}

// look searches a node that was weighed: the more promising of its two parts first.
func (s *search) look(n *node) {
	if s.left == 0 {
		s.open = min(s.open, n.bound)
		return
	}
	s.left--
	one, other := *n, *n
	if !s.part(n, &one, &other) {
		if !s.keepsLimits(n, &n.amounts) { // the linear problem was given up
			s.open = min(s.open, n.bound)
			return
		}
		s.best, s.plan = n.bound, n.amounts
		return
	}
	parts := [2]*node{&one, &other}
	worth := [2]bool{s.weigh(&one), s.weigh(&other)}
	nearer := 0
	if other.bound < one.bound {
		nearer = 1
	}
	for _, i := range []int{nearer, 1 - nearer} {
		if worth[i] && s.beats(parts[i]) {
			s.look(parts[i])
		}
	}
}

// part parts a node by a window that is not decided, else by an amount that is not in whole steps; false where its amounts are a plan.
func (s *search) part(n, one, other *node) bool {
	if w := s.undecided(n); w >= 0 {
		s.use(one, w)
		s.shut(other, w)
		return true
	}
	w, flown := s.broken(&n.amounts)
	if w >= 0 {
		s.roundUp(n)
	}
	switch {
	case w < 0:
		return false
	case flown:
		one.low.fallback[w] = up(n.fallback[w], s.load[w])
		other.high.fallback[w] = down(n.fallback[w], s.load[w])
	default:
		one.low.lot[w] = up(n.lot[w], s.step[w])
		other.high.lot[w] = down(n.lot[w], s.step[w])
	}
	return true
}

// roundUp looks for a plan in whole steps among the windows that a node uses.
func (s *search) roundUp(n *node) {
	m := *n
	for w := range s.n {
		if m.lot[w] > s.tiny {
			s.use(&m, w)
		} else {
			s.shut(&m, w)
		}
		m.low.lot[w] = up(m.low.lot[w], s.step[w])
	}
	fixed := s.prices(&m)
	if !s.fillWhole(&m.box, &m.amounts) {
		return
	}
	if !s.keepsLimits(&m, &m.amounts) {
		return
	}
	if m.bound = fixed + s.cost(&m.box, &m.amounts); m.bound < s.best {
		s.best, s.plan = m.bound, m.amounts
	}
}

// use and shut decide about a window.
func (s *search) use(n *node, w int) {
	n.used |= 1 << w
	n.low.lot[w] = max(n.low.lot[w], s.least[w])
}

func (s *search) shut(n *node, w int) {
	n.shut |= 1 << w
	n.high.lot[w] = 0
}

// prices sets the prices of a node's lots and gives the fixed costs of those decided.
func (s *search) prices(n *node) (fixed float64) {
	for w := range s.n {
		n.price[w] = s.lotPrice[w]
		switch {
		case n.used>>w&1 == 1:
			fixed += s.fixed[w]
		case n.high.lot[w] > 0:
			n.price[w] += s.fixed[w] / n.high.lot[w]
		}
	}
	return fixed
}

// undecided picks the window whose fixed cost and least lot the amounts of a node miss by most; −1 where they miss none.
func (s *search) undecided(n *node) int {
	worst, at := 0.0, -1
	for w := range s.n {
		x := n.lot[w]
		if n.used>>w&1 == 1 || n.shut>>w&1 == 1 || x <= s.tiny {
			continue
		}
		use, inLimit := s.fixed[w], 0.0
		for i := range s.rows {
			inLimit = max(inLimit, s.rows[i].use[w])
		}
		missed := max(use, inLimit) * (1 - x/n.high.lot[w])
		short := x < s.least[w]-s.tiny
		if short {
			missed += use + s.lotPrice[w]*(s.least[w]-x)
		}
		counts := short || missed > precision*n.bound || inLimit > 0 && x < n.high.lot[w]-s.tiny
		if counts && (at < 0 || missed > worst) {
			worst, at = missed, w
		}
	}
	return at
}

// broken picks the amount that is farthest from whole steps, −1 where all are whole.
func (s *search) broken(a *amounts) (at int, flown bool) {
	worst := whole
	at = -1
	part := func(x, step float64) float64 {
		if step == 0 {
			return 0
		}
		return math.Abs(x/step - math.Round(x/step))
	}
	for w := range s.n {
		if p := part(a.lot[w], s.step[w]); p > worst {
			worst, at, flown = p, w, false
		}
		if p := part(a.fallback[w], s.load[w]); p > worst {
			worst, at, flown = p, w, true
		}
	}
	return at, flown
}
