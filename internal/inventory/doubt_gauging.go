package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
)

// GaugingRise is the share of a tank's safe fill by which it may seem to rise beyond three standard uncertainties of the
// two gaugings. Common practice, no source.
const GaugingRise = 0.01

// lossPrice is that of a fall that the meters do not explain and the plant might burn: dearer than none, and less than a slip.
const lossPrice = 6

// levellingPrice is that of fuel moved between two storage tanks without a record: there and back is dearer than
// two dips written down for each other.
const levellingPrice = 6

// doubtGaugings looks through the gaugings of each storage tank. The others are filled and emptied all day
// long: whatever fits into them may be.
func (b *Book) doubtGaugings(lines []*tankLine) {
	// All are looked at before any is left out: the sisters stand as they were read.
	var found []func()
	for _, l := range lines {
		found = append(found, l.look()...)
	}
	for _, f := range found {
		f()
	}
	for _, l := range lines {
		l.doubtTemperatures()
	}
}

// tankLines gives the storage tanks' gaugings, each tank with its sisters.
func (b *Book) tankLines() (lines []*tankLine, byID map[string]*tankLine) {
	out := b.outflow()
	b.flow = out
	byID = map[string]*tankLine{}
	for _, t := range b.tanksOf(Storage) {
		l := b.tankLine(t, out)
		lines, byID[t.ID] = append(lines, l), l
	}
	for _, l := range lines {
		l.sisters = lines
	}
	return lines, byID
}

// tankLine is one storage tank's gaugings. Those taken while fuel ran are no beginning and no end of anything.
type tankLine struct {
	*Book
	tank     *Tank
	gaugings []measuredGauging
	out      *outflow
	inflows  []time.Time
	resets   []time.Time // moments at which what the tank holds may have changed in any way
	safeFill float64
	buffers  float64 // what tanks that are filled from this one may take at once
	sisters  []*tankLine
}

func (b *Book) tankLine(t *Tank, out *outflow) *tankLine {
	l := &tankLine{Book: b, tank: t, out: out, inflows: b.inflows(t.ID), safeFill: float64(b.measured[t.ID].SafeFill)}
	l.resets = b.resets(t)
	l.gaugings = b.gaugings[t.ID]
	if slices.ContainsFunc(l.gaugings, func(g measuredGauging) bool { return g.Moving }) {
		l.gaugings = slices.DeleteFunc(slices.Clone(l.gaugings), func(g measuredGauging) bool { return g.Moving })
	}
	l.buffers = b.capacityOf(b.tanksOf(Intermediate, DayTank))
	return l
}

func (g *measuredGauging) fuel() float64 { return float64(g.content.UsableAt15 + g.content.Below) }

// spare is by how much two gaugings of a tank may differ for nothing.
func (l *tankLine) spare(a, b *measuredGauging) float64 {
	return GaugingRise*l.safeFill + 3*math.Hypot(float64(a.content.Sigma), float64(b.content.Sigma))
}

func (l *tankLine) between(i, j int) step {
	a, b := &l.gaugings[i], &l.gaugings[j]
	if anyWithin(l.resets, a.At, b.At) {
		return step{follows: true}
	}
	change, spare := b.fuel()-a.fuel(), l.spare(a, b)
	came := anyWithin(l.inflows, a.At, b.At)
	lost := l.loss(a.At, b.At)
	rose := change > spare && !came
	fell := lost.known && -change > lost.most+spare
	s := step{follows: true}
	if !came {
		s.roughness = square(change+lost.usual/float64(len(l.sisters))) / daysBetween(a.At, b.At)
	}
	if lost.metered && !came && -change > lost.run*(1+vouchShare)+lost.drawn+lost.moved+l.buffers+spare {
		s.price += lossPrice
	}
	switch {
	case !rose && !fell || l.isConfirmed(b.Gauging):
		return s
	case l.levelled(a, b, change):
		s.price = levellingPrice
		return s
	}
	return step{}
}

// levelled tells that other storage tanks, one or all together, lost or gained what this one gained or lost, and that it was not
// two dips that were written down for each other.
func (l *tankLine) levelled(a, b *measuredGauging, change float64) bool {
	most, known := l.mostFall(a.At, b.At)
	if !known {
		return false
	}
	fits := func(other, spare float64) bool {
		sum := change + other
		return other*change < 0 && sum <= spare && sum >= -spare-most
	}
	others, spares := 0.0, l.spare(a, b)
	for _, o := range l.sisters {
		if o == l {
			continue
		}
		from, ok1 := l.gaugingAround(o.tank, a.At, sameDay)
		to, ok2 := l.gaugingAround(o.tank, b.At, sameDay)
		if !ok1 || !ok2 || from.Gauging == to.Gauging || from.Moving || to.Moving {
			continue
		}
		other, spare := to.fuel()-from.fuel(), o.spare(&from, &to)
		if fits(other, l.spare(a, b)+spare) {
			return !l.exchanged(o, a, b, &from, &to)
		}
		others, spares = others+other, spares+spare
	}
	return fits(others, spares)
}

// exchanged tells that two tanks' later readings, each taken for the other, go on closely from the earlier ones.
func (l *tankLine) exchanged(o *tankLine, a, b, from, to *measuredGauging) bool {
	mine, ok1 := l.fuelOf(to.Reading())
	theirs, ok2 := o.fuelOf(b.Reading())
	own, ok3 := l.likely(a, b, nil)
	other, ok4 := o.likely(from, to, nil)
	return ok1 && ok2 && ok3 && ok4 && own.has(mine) && other.has(theirs) && own.explains(mine-b.fuel()) && other.explains(theirs-to.fuel())
}

// look finds the tank's doubtful gaugings; each answer says one.
func (l *tankLine) look() (found []func()) {
	kept, changed := chain(len(l.gaugings), func(i int) bool { return l.isConfirmed(l.gaugings[i].Gauging) }, l.between)
	var good *measuredGauging // the last before which nothing is wrong
	at := 0
	for i := range l.gaugings {
		g, before := &l.gaugings[i], good
		if at == len(kept) || kept[at] != i {
			var after *measuredGauging
			if at < len(kept) {
				after = &l.gaugings[kept[at]]
			}
			found = append(found, func() { l.name(before, g, after, WholeRow) })
			continue
		}
		switch {
		case !changed[at]:
			good = g
		case l.lastingCause(before, kept[at:], changed[at:]) != "":
			found = append(found, func() { l.name(before, g, nil, WholeRow) })
			if at+1 < len(kept) {
				changed[at+1] = true // which is measured by the same stick
			}
		default:
			found = append(found, func() { l.name(before, g, nil, RunBefore) })
			good = g
		}
		at++
	}
	return found
}

// lastingCause finds what explains a gauging and those that follow on from it all alike: who reads a stick in another unit goes on to.
func (l *tankLine) lastingCause(before *measuredGauging, kept []int, changed []bool) (cause Cause) {
	if before == nil {
		return ""
	}
	for n, i := range kept {
		if n > 0 && changed[n] || n == sideReach {
			break
		}
		r, ok := l.likely(before, &l.gaugings[i], nil)
		if !ok {
			return ""
		}
		c := l.readingCause(&l.gaugings[i], r)
		if !slices.Contains([]Cause{UnitsSwitched, DigitAdded, DigitDropped}, c) || n > 0 && c != cause {
			return ""
		}
		cause = c
	}
	return cause
}

// name doubts a gauging beside those before and after it, as far as there are any.
func (l *tankLine) name(before, g, after *measuredGauging, scope Scope) {
	low, high := l.expected(before, g, after)
	found := g.fuel()
	cause := FallUnexplained
	if found > high {
		cause = RiseUnexplained
	}
	if d := l.mistimed(before, g, after, cause); d != nil {
		l.nameMistimed(g, d, scope, low, high)
		return
	}
	if scope == WholeRow {
		if l.interchanged(g, low, high) {
			cause = TanksInterchange
		} else if r, ok := l.likely(before, g, after); ok {
			cause = cmp.Or(l.readingCause(g, r), cause)
		}
	}
	if cause == FallUnexplained && after == nil {
		scope = RunBefore // the fuel may be gone: the lower figure stands
	}
	l.say(g, cause, scope, low, high)
}

func (l *tankLine) say(g *measuredGauging, cause Cause, scope Scope, low, high float64) {
	words := causeWords[cause]
	if g.fuel() < low && l.newest(g) {
		words += ". Dip again now: if it stands, fuel was lost"
	}
	l.tell(g, cause, scope, low, high, words+todo(scope, "what came and went before it"))
}

// tell is say in words of its own, what is to be done among them.
func (l *tankLine) tell(g *measuredGauging, cause Cause, scope Scope, low, high float64, words string) {
	d := Doubt{
		At: g.At, Cause: cause, Scope: scope, Found: g.fuel(), Low: low, High: &high, Unit: "L at 15 °C",
		Subject: l.Plant.ID + " tank " + l.tank.ID,
		Message: "the gauging of " + l.day(g.At) + " found " + figure(math.Round(g.fuel())) + " L at 15 °C, expected " +
			figure(math.Round(low)) + " to " + figure(math.Round(high)) + ": " + words,
	}
	if d.Found < low && l.newest(g) {
		d.severity = notice.Serious
	}
	l.doubt(g.Gauging, d)
}

// newest tells whether no gauging of the tank follows.
func (l *tankLine) newest(g *measuredGauging) bool {
	return l.gaugings[len(l.gaugings)-1].Gauging == g.Gauging
}

// expected gives the litres at 15 °C between which a tank should stand.
func (l *tankLine) expected(before, g, after *measuredGauging) (low, high float64) {
	capacity := float64(tanks.Capacity(l.measured[l.tank.ID].Shape))
	low, high = 0, capacity
	if before != nil {
		if most, ok := l.mostFall(before.At, g.At); ok {
			low = before.fuel() - most - l.spare(before, g)
		}
		if !anyWithin(l.inflows, before.At, g.At) {
			high = before.fuel() + l.spare(before, g)
		}
	}
	if after != nil {
		if most, ok := l.mostFall(g.At, after.At); ok {
			high = math.Min(high, after.fuel()+most+l.spare(g, after))
		}
		if !anyWithin(l.inflows, g.At, after.At) {
			low = math.Max(low, after.fuel()-l.spare(g, after))
		}
	}
	return math.Max(low, 0), math.Max(high, low)
}
