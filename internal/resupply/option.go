package resupply

import (
	"math"
	"slices"

	"overwinter/internal/calendar"
)

// OptionKind names what is done otherwise than planned, or happens.
type OptionKind string

// The kinds of option.
const (
	SkipDelivery  OptionKind = "skip-delivery"  // and plan the others anew
	FillUp        OptionKind = "fill-up"        // at a delivery, as far as there is room
	SaveFuel      OptionKind = "save-fuel"      // a share of the burn, and plan anew
	WindowFails   OptionKind = "window-fails"   // and the plan is carried out with what is left
	LitresOrdered OptionKind = "litres-ordered" // now, instead of by the stock of the day of delivery
)

// Option compares something else with a plan on the same paths, so that what both have in common, weather and
// windows, drops out of the difference.
type Option struct {
	Kind   OptionKind
	Lot    int     // of the plan, from 0; −1 where it is of none
	Window *Window // that fails, else nil
	Share  float64 // of the burn that is saved, else 0

	// More is what it costs more than the plan, in the mean, with its standard error; below 0 it is cheaper.
	More, Error float64
	Below       float64 // share of paths below the reserve, before a fallback
	BelowMore   float64 // against the plan, in shares of paths, with its standard error
	BelowError  float64
	Fallback    float64 // litres, mean
	Missing     float64 // litres, mean, where there is no fallback
	// Short is what a fallback must bring at the risk target where a window fails; nil where nothing.
	Short *Shortage
}

// OptionKinds lists every kind of option.
func OptionKinds() []OptionKind {
	return []OptionKind{SkipDelivery, FillUp, LitresOrdered, WindowFails, SaveFuel}
}

// Shares of the burn that an option looks at saving; common practice, no source.
var savings = []float64{0.05, 0.1}

// Options compares with the plan, on the paths of a fresh problem: each lot skipped or filled up, its litres
// ordered beforehand, each used window's failing, and fuel saved.
func (pl *Plan) Options(fresh *Problem, seed uint64) []Option {
	f := fresh.futuresOf(pl.all, seed)
	base := f.outcomes(pl.course)
	var all []Option
	add := func(o Option, other []outcome) { all = append(all, o.against(base, other)) }
	for k, u := range pl.course.used {
		if c := pl.f.best(func(occasion int) bool { return pl.without(u, occasion) }); c != nil {
			add(Option{Kind: SkipDelivery, Lot: k}, f.outcomes(c))
		}
		if c := f.filled(pl.course, k); c != nil {
			add(Option{Kind: FillUp, Lot: k}, f.outcomes(c))
		}
		fixed := *pl.course
		fixed.fixed = k + 1
		add(Option{Kind: LitresOrdered, Lot: k}, f.outcomes(&fixed))
	}
	for _, w := range pl.windows(fresh) {
		g := f.without(w)
		o := Option{Kind: WindowFails, Lot: -1, Window: w, Short: g.short(pl.course)}
		add(o, g.outcomes(pl.course))
	}
	for _, share := range savings {
		saving := *fresh
		saving.Burn = scaled{fresh.Burn, 1 - share}
		g := saving.futuresOf(pl.all, seed)
		add(Option{Kind: SaveFuel, Lot: -1, Share: share}, g.outcomes(pl.course))
	}
	return all
}

// without tells that a plan without a used delivery may use another: not one of the same window that the plan itself
// does without, which would only put the delivery off.
func (pl *Plan) without(skipped, other int) bool {
	w := pl.all[skipped].window
	return other != skipped && (w.AllYear || pl.all[other].window != w || slices.Contains(pl.course.used, other))
}

// windows lists those of the plan's lots, each once.
func (pl *Plan) windows(fresh *Problem) []*Window {
	var all []*Window
	for _, u := range pl.course.used {
		if w := &fresh.Windows[pl.all[u].index]; !w.AllYear && !slices.Contains(all, w) {
			all = append(all, w)
		}
	}
	return all
}

func (f *futures) outcomes(c *course) []outcome {
	return perPath(len(f.legs), func(s int) outcome {
		o := newOutcome(c)
		f.carry(c, s, o)
		return *o
	})
}

// against reckons an option's differences, path by path.
func (o Option) against(base, other []outcome) Option {
	more := spreadOf(perPath(len(base), func(s int) float64 { return other[s].total() - base[s].total() }))
	below := spreadOf(perPath(len(base), func(s int) float64 { return count(other[s].Below) - count(base[s].Below) }))
	o.More, o.Error, o.BelowMore, o.BelowError = more.Mean, more.Error, below.Mean, below.Error
	var r PlanReplayed
	r.average(other)
	o.Below, o.Fallback, o.Missing = r.Below, r.Fallback, r.Missing
	return o
}

// filled is the course with its k-th lot filling the tanks; nil where there is no limit to fill to.
func (f *futures) filled(c *course, k int) *course {
	full := f.of(c.used[k], f.next(c, k)).most(f.p.Risk)
	if math.IsInf(full, 1) {
		return nil
	}
	d := *c
	d.upTo, d.call = slices.Clone(c.upTo), slices.Clone(c.call)
	d.upTo[k] = max(full, c.upTo[k])
	d.call[k] = d.upTo[k]
	return &d
}

// without is the same futures with a window shut: each of its legs is part of the one before.
func (f *futures) without(w *Window) *futures {
	g := *f
	g.legs = perPath(len(f.legs), func(s int) []leg {
		var kept []leg
		for _, l := range f.legs[s] {
			if l.occasion >= 0 && f.all[l.occasion].window == w {
				kept[len(kept)-1].join(l)
			} else {
				kept = append(kept, l)
			}
		}
		return kept
	})
	return &g
}

// join lengthens a leg by the one after it.
func (l *leg) join(after leg) {
	l.days += after.days
	l.sum += after.sum
	l.end = after.end
	l.reserve, l.fallback, l.dry = max(l.reserve, after.reserve), max(l.fallback, after.fallback), max(l.dry, after.dry)
	l.room = min(l.room, after.room)
}

// short says what a course leaves short at the risk target, before a fallback; nil where nothing.
func (f *futures) short(c *course) *Shortage {
	need, from := make([]float64, len(f.legs)), make([]int, len(f.legs))
	o := newOutcome(c)
	for s := range f.legs {
		f.carry(c, s, o)
		var brought []delivery
		for k, u := range c.used {
			if day := f.all[u].arrival[s]; o.Lots[k] > 0 {
				brought = append(brought, delivery{o.Lots[k], day})
			}
		}
		from[s] = f.p.firstBelow(s, 0, f.p.Horizon, brought...)
		need[s] = o.Fallback + o.Missing
	}
	litres, first := max(0, upperBound(need, f.p.Risk).value), bound(from, f.p.Risk).value
	if litres == 0 || first == Never {
		return nil
	}
	return &Shortage{Litres: litres, From: f.p.AsOf + calendar.Day(first), Loads: f.p.ranked(litres, first)}
}

// ranked lists what each fallback would take, the cheapest first, those without a price last.
func (p *Problem) ranked(litres float64, from int) []Loads {
	all := p.loads(litres, from)
	slices.SortStableFunc(all, func(a, b Loads) int {
		switch {
		case (a.Cost == 0) != (b.Cost == 0):
			if a.Cost == 0 {
				return 1
			}
			return -1
		case a.Cost < b.Cost:
			return -1
		case a.Cost > b.Cost:
			return 1
		}
		return a.LeadDays - b.LeadDays
	})
	return all
}
