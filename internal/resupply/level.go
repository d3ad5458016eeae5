package resupply

import (
	"math"
	"slices"
)

// futures is a problem cut for planning: its deliveries, and every path's legs between them.
type futures struct {
	p      *Problem
	all    []*occasion // the last is not used: the lot before it must carry to it
	legs   [][]leg     // by path
	prices [][]float64 // by occasion and path, freight included
	gone   []float64   // by occasion: out by its arrival, median
	price  []float64   // by occasion: mean
	stock  float64     // median
	flown  *Fallback   // nil where none has a price

	levels map[stretch]*levels
}

// stretch is the time from one used delivery to the next; −1 is the as-of day.
type stretch struct{ from, to int }

// levels holds, sorted, what a stretch asks of the stock in the tanks once its lot has come: at least need
// and at most room, one value a path on which both its ends come.
type levels struct{ need, room []float64 }

// futures cuts the problem's paths at the given deliveries.
func (p *Problem) futures(all []*occasion, seed uint64) *futures {
	p.hold()
	f := &futures{p: p, all: all, levels: map[stretch]*levels{}}
	n := p.Burn.Count()
	sc := p.scanner()
	f.legs = perPath(n, func(s int) []leg { return sc.legs(s, f.all) })
	f.flown = p.cheapest()
	f.stock = median(slices.Clone(p.Stock))
	for i, o := range f.all {
		f.prices = append(f.prices, p.prices(o, seed))
		f.price = append(f.price, mean(f.prices[i]))
		var gone []float64
		for _, legs := range f.legs {
			if k := place(legs, i); k >= 0 {
				gone = append(gone, legs[k].gone)
			}
		}
		f.gone = append(f.gone, median(gone))
	}
	return f
}

// last is the index of the delivery that ends the plan.
func (f *futures) last() int { return len(f.all) - 1 }

// place finds the leg that an occasion begins, −1 where it does not come.
func place(legs []leg, occasion int) int {
	return slices.IndexFunc(legs, func(l leg) bool { return l.occasion == occasion })
}

// of gives a stretch's levels. A path on which one of its ends does not come is another scenario; one on
// which they come in the other order asks nothing.
func (f *futures) of(from, to int) *levels {
	key := stretch{from, to}
	if l := f.levels[key]; l != nil {
		return l
	}
	l := &levels{}
	for s, legs := range f.legs {
		a, b := place(legs, from), place(legs, to)
		if a < 0 || b < 0 || b <= a {
			continue
		}
		start := legs[a].gone
		if from < 0 {
			start = f.p.Stock[s] - f.stock // so that the level is that of the median stock
		}
		need, room := math.Inf(-1), math.Inf(1)
		for _, leg := range legs[a:b] {
			need, room = max(need, leg.reserve), min(room, leg.room)
		}
		l.need, l.room = append(l.need, need-start), append(l.room, room-start)
	}
	slices.Sort(l.need)
	slices.Sort(l.room)
	f.levels[key] = l
	return l
}

// need is the level that holds the reserve at all but the risk, −∞ where no path asks for one.
func (l *levels) least(risk float64) float64 {
	n := len(l.need)
	if n == 0 {
		return math.Inf(-1)
	}
	return l.need[n-1-max(Allowed(n, risk), 0)]
}

// most is the level for which there is room at all but the risk, +∞ where no path has a bound.
func (l *levels) most(risk float64) float64 {
	n := len(l.room)
	if n == 0 {
		return math.Inf(1)
	}
	return l.room[max(Allowed(n, risk), 0)]
}

// mostLost is the share of the risk target up to which a delivery's failing is taken off it. Beyond, too little is left
// for coming late: then the target is held over the paths on which it comes, and the plan says so.
const mostLost = 0.9

// left is what a delivery's failing leaves of the risk target for being late or small.
func (f *futures) left(to int) float64 {
	if lost := f.all[to].failing(); lost <= mostLost*f.p.Risk {
		return f.p.Risk - lost
	}
	return f.p.Risk
}

func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	return pick(values, rank(len(values), 0.5))
}
