package lots

import "math"

// The kernel works on plain numbers: litres, money and money per litre.

// perWindow holds a number for each window.
type perWindow [MostWindows]float64

// amounts are lots and fallbacks.
type amounts struct{ lot, fallback perWindow }

// line is a plant's problem as a line of sources in the order of time: lot, fallback, lot, fallback ... Cumulative amounts are
// bounded from above where a lot has arrived, and from below where an interval ends.
type line struct {
	n          int
	need, room perWindow
	least      perWindow // of a lot
	most       perWindow // of a lot, never more than can be of use; 0 is a shut window
	step, load perWindow
	fixed      perWindow
	lotPrice   perWindow // the carrying costs to the end included
	flyPrice   perWindow // the same; +Inf where there is no fallback
	rows       []row     // of the plant's limits
	constant   float64   // money: what carrying costs are below the sum over prices
	tiny       float64   // litres that do not count
}

// precision is the part of a problem's size that rounding may make of nothing.
const precision = 1e-12

// lineOf prepares a plant's problem.
func lineOf(p *Plant) *line {
	l := &line{n: len(p.Windows)}
	carrying := 0.0
	for w := l.n - 1; w >= 0; w-- {
		v := &p.Windows[w]
		carrying += float64(v.Carrying)
		l.constant -= float64(v.Carrying) * float64(v.Need)
		l.need[w], l.room[w] = float64(v.Need), float64(v.Room)
		l.least[w], l.most[w], l.step[w] = float64(v.Min), float64(v.Max), float64(v.Step)
		l.fixed[w], l.lotPrice[w] = float64(v.Fixed), float64(v.Price)+carrying
		l.flyPrice[w] = math.Inf(1)
		if v.Fallback != nil {
			l.flyPrice[w], l.load[w] = float64(v.Fallback.Price)+carrying, float64(v.Fallback.Load)
		}
	}
	l.measure()
	l.trim()
	l.wholeSteps()
	l.rows = l.limits(p)
	return l
}

// measure finds the size of the problem, by which small differences are told from rounding.
func (l *line) measure() {
	size := 0.0
	for w := range l.n {
		for _, x := range []float64{math.Abs(l.need[w]), math.Abs(l.room[w]), l.least[w]} {
			if !math.IsInf(x, 0) {
				size = max(size, x)
			}
		}
	}
	l.tiny = precision * size
}

// trim takes off the largest lots what cannot be of use: more than is ever needed from there on, unless the least lot is
// more, or than ever fits. What remains keeps some best plan, since all prices are 0 or more, so that a lot above both bounds
// can be cut without a loss. A window whose least lot does not fit is shut.
func (l *line) trim() {
	needed, fits := 0.0, math.Inf(1)
	for w := l.n - 1; w >= 0; w-- {
		needed, fits = max(needed, l.need[w]), min(fits, l.room[w])
		l.least[w] = up(l.least[w], l.step[w])
		l.most[w] = min(l.most[w], max(l.least[w], up(needed, l.step[w])), max(fits, 0))
		l.most[w] = down(l.most[w], l.step[w])
		if l.most[w] < l.least[w]-l.tiny || l.most[w] <= l.tiny {
			l.least[w], l.most[w], l.step[w] = 0, 0, 0
		}
	}
}

// wholeSteps tightens the bounds up to which everything comes in steps: the sums are multiples of their greatest common divisor then.
func (l *line) wholeSteps() {
	step := 0.0
	common := func(other float64) bool {
		if other > 0 {
			step = divisor(step, other)
		}
		return other > 0 && step > 0
	}
	for w := range l.n {
		if l.most[w] > 0 && !common(l.step[w]) {
			return
		}
		l.room[w] = down(l.room[w], step)
		if !math.IsInf(l.flyPrice[w], 1) && !common(l.load[w]) {
			return
		}
		l.need[w] = up(l.need[w], step)
	}
}

// divisor is the greatest common divisor of two steps, 0 where they have none that rounding does not make.
func divisor(a, b float64) float64 {
	smallest := finest * max(a, b)
	for b > smallest {
		rest := math.Abs(math.Remainder(a, b))
		if rest < whole*a {
			rest = 0
		}
		a, b = b, rest
	}
	if b > 0 {
		return 0
	}
	return a
}

// whole is how near a number of steps must be to a whole number to count as one.
const whole = 1e-9

// up gives the next multiple of a step; no step leaves a number as it is.
func up(x, step float64) float64 {
	if step == 0 || math.IsInf(x, 0) {
		return x
	}
	return math.Ceil(x/step-whole) * step
}

// down gives the multiple of a step before.
func down(x, step float64) float64 {
	if step == 0 || math.IsInf(x, 0) {
		return x
	}
	return math.Floor(x/step+whole) * step
}
