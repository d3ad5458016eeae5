package resupply

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// mostOccasions is how many deliveries a plan weighs, the earliest: every set of them is looked at.
const mostOccasions = 9

// occasion is one delivery that a plan may use, ordered on a planned day.
type occasion struct {
	window  *Window
	index   int  // of the window
	nth     int  // delivery of the window, from 0
	late    bool // as late as the window lets it
	ordered int
	arrival []int // on each path; Never where it does not come within the horizon
	median  int   // arrival, over the paths on which it comes
}

func (o *occasion) name() string {
	switch {
	case o.late:
		return o.window.Name + ", late"
	case o.nth > 0:
		return fmt.Sprintf("%s, delivery %d", o.window.Name, o.nth+1)
	}
	return o.window.Name
}

// failing is the chance that it does not come: that the window is lost, which is known, or that it closes first,
// which is counted on the paths on which it opens.
func (o *occasion) failing() float64 {
	opens, late := 0, 0
	for s, day := range o.arrival {
		if o.window.Opens[s] != Never {
			opens++
			if day == Never {
				late++
			}
		}
	}
	lost := o.window.LossChance
	return lost + (1-lost)*float64(late)/float64(max(opens, 1))
}

// occasions lists the deliveries of all windows in the order of their median arrival. The last is not to be
// used: it is that to which the lot before it must carry.
func (p *Problem) occasions() []*occasion {
	var all []*occasion
	for i := range p.Windows {
		all = append(all, p.occasionsOf(i)...)
	}
	slices.SortStableFunc(all, func(a, b *occasion) int { return cmp.Compare(a.median, b.median) })
	return endedByOpening(all)
}

// endedByOpening keeps the deliveries that a plan weighs, and the one that ends it: the first after them that a window
// opens with, since none is planned from that window; where no window opens after them, the last that does.
func endedByOpening(all []*occasion) []*occasion {
	opens := func(o *occasion) bool { return o.window.AllYear || o.nth == 0 && !o.late }
	weighed := min(len(all), mostOccasions)
	if i := slices.IndexFunc(all[weighed:], opens); i >= 0 {
		return append(all[:weighed:weighed], all[weighed+i])
	}
	for weighed > 0 && !opens(all[weighed-1]) {
		weighed--
	}
	return all[:weighed]
}

func (p *Problem) occasionsOf(index int) []*occasion {
	w := &p.Windows[index]
	if w.OrderBy != nil && *w.OrderBy < 0 {
		return nil
	}
	var all []*occasion
	ordered := p.inTime(w)
	for nth := range p.deliveries(w) {
		o := &occasion{index: index, nth: nth, ordered: ordered}
		if w.AllYear {
			o.ordered += nth * w.apart()
		}
		if o.on(p); o.median < Never {
			all = append(all, o)
		}
	}
	if late := p.lateIn(index, all); late != nil {
		all = append(all, late)
	}
	return all
}

const (
	lateShare = 0.2 // of the risk target that a delivery late in a window may take for coming after it closes
	leastLate = 14  // days after the others, for it to be worth a thought
)

// lateIn is a delivery of a window that comes as late as it surely can: it finds the most room, and carries farthest. Nil
// where it would not come much later than the others.
func (p *Problem) lateIn(index int, others []*occasion) *occasion {
	w := &p.Windows[index]
	if w.AllYear || len(others) == 0 {
		return nil
	}
	last := w.last(WindowGuard, windowLast(w), lateShare*p.Risk).Day
	if w.OrderBy != nil {
		last = min(last, *w.OrderBy)
	}
	o := &occasion{index: index, late: true, ordered: last}
	if last <= others[0].ordered || last == Never {
		return nil
	}
	if o.on(p); o.median == Never || o.median < others[len(others)-1].median+max(leastLate, w.apart()) {
		return nil
	}
	return o
}

// together tells that a plan may use some deliveries: of one window there are only so many.
func (p *Problem) together(used []*occasion) bool {
	of := map[*Window]int{}
	for _, o := range used {
		of[o.window]++
		if of[o.window] > p.deliveries(o.window) {
			return false
		}
	}
	return true
}

// on puts the delivery on the paths of a problem.
func (o *occasion) on(p *Problem) {
	o.window = &p.Windows[o.index]
	o.arrival = perPath(len(o.window.Opens), func(s int) int { return o.arrivalOn(s, p.Horizon) })
	o.median = middle(o.arrival)
}

// arrivalOn gives the day on which the delivery comes on a path.
func (o *occasion) arrivalOn(path, horizon int) int {
	w := o.window
	day := w.Arrival(path, o.ordered)
	if day != Never && !w.AllYear {
		day += o.nth * w.apart()
	}
	if day > w.Closes[path] || day > horizon {
		return Never
	}
	return day
}

// middle is the median of the days that are not Never; Never where all are.
func middle(days []int) int {
	var come []int
	for _, d := range days {
		if d != Never {
			come = append(come, d)
		}
	}
	if come == nil {
		return Never
	}
	return quantile(come, 0.5)
}

// apart is the least number of days between two deliveries of a window. A way open all year is taken up
// once a quarter where nothing else is said.
func (w *Window) apart() int {
	switch {
	case w.Terms.Apart > 0:
		return w.Terms.Apart
	case w.AllYear:
		return quarter
	}
	return 1
}

const quarter = 91 // days

func (p *Problem) deliveries(w *Window) int {
	if w.AllYear {
		return max(1, p.Horizon/w.apart())
	}
	return max(1, w.Terms.Deliveries)
}

// inTime is the last day on which an order comes as early as one placed today, at all but the risk, and
// before the supplier's deadline: later nothing is gained but money that need not be paid yet.
func (p *Problem) inTime(w *Window) int {
	if w.AllYear {
		return 0
	}
	day := w.last(WindowGuard, perPath(len(w.Opens), func(s int) int { return w.Opens[s] - w.Lead[s] }), p.Risk).Day
	if w.OrderBy != nil {
		day = min(day, *w.OrderBy)
	}
	return max(day, 0)
}

// pays gives the day of payment for a delivery ordered and arriving on two days.
func (t Terms) pays(ordered, arrival int) int {
	if t.PayFromOrder {
		return ordered + t.PayDays
	}
	return arrival + t.PayDays
}

const yearDays = 365.25

// expected gives the price of a litre, freight included, on a day to come.
func (t Terms) expected(day int) float64 {
	return t.Price*math.Pow(1+t.Growth, float64(day)/yearDays) + t.Freight
}

// prices draws the price of a litre on each path, freight included: a geometric random walk with the
// expected growth, whose steps the deliveries of a route share.
func (p *Problem) prices(o *occasion, seed uint64) []float64 {
	t := o.window.Terms
	return perPath(len(o.arrival), func(s int) float64 {
		day := t.pays(o.ordered, min(o.arrival[s], p.Horizon))
		if t.SD == 0 || day <= 0 {
			return t.expected(day)
		}
		sd := t.SD * math.Sqrt(float64(day)/yearDays)
		z := walkTo(seed, "price/"+o.window.Route, s, day)
		return t.Price*math.Pow(1+t.Growth, float64(day)/yearDays)*math.Exp(sd*z-sd*sd/2) + t.Freight
	})
}

// walkTo gives where a random walk of monthly steps stands on a day, in standard deviations.
func walkTo(seed uint64, name string, path, day int) float64 {
	const month = 30
	d, sum, steps := NewDraws(seed, name, path), 0.0, (day+month-1)/month
	for range steps {
		sum += d.NormFloat64()
	}
	return sum / math.Sqrt(float64(steps))
}
