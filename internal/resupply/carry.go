package resupply

import "math"

// outcome is what a course comes to on one path.
type outcome struct {
	Fixed, Fuel, Flown, Carrying float64 // money
	Left                         float64 // worth of what is in the tanks at the end above the least needed
	Lots                         []float64
	Fallback                     float64 // litres
	Missing                      float64 // litres for which there is no fallback: the plant is dry without them
	Below                        bool    // the reserve, before a fallback
	BelowIn                      []bool  // by stretch: before the first used, then by used
	Dry                          bool    // before a fallback's fuel there would be none
	Cut                          []int   // spending limits that kept a lot smaller than was wanted
}

func newOutcome(c *course) *outcome {
	return &outcome{Lots: make([]float64, len(c.used)), BelowIn: make([]bool, len(c.used)+1)}
}

func (o *outcome) clear() {
	clear(o.Lots)
	clear(o.BelowIn)
	*o = outcome{Lots: o.Lots, BelowIn: o.BelowIn, Cut: o.Cut[:0]}
}

// total is what the supply costs, what it leaves taken off.
func (o *outcome) total() float64 { return o.Fixed + o.Fuel + o.Flown + o.Carrying - o.Left }

// carry carries a course out on a path: each delivery fills up to its level, as the route's lots and the room
// allow, and the fallback brings whole loads where the stock would fall to where it is bought. What lies in the
// tanks is carried at the price of the newest used delivery, before it at that of the first in sight.
func (f *futures) carry(c *course, path int, out *outcome) {
	out.clear()
	position, stretch := f.p.Stock[path], 0
	legs, left, worth := f.legs[path], 0.0, f.price[0]
	for i := range legs {
		l := &legs[i]
		if l.occasion == f.last() {
			break
		}
		if k := usedAt(c, l.occasion); k >= 0 {
			stretch, worth = k+1, f.price[l.occasion]
			position += f.deliver(c, k, path, position, l, out)
		}
		if position < l.reserve {
			out.Below, out.BelowIn[stretch] = true, true
		}
		position += f.bridge(position, l, out)
		out.Carrying += f.p.Carrying * worth / yearDays * max(0, position*float64(l.days)-l.sum)
		left = position - l.end
	}
	out.Left = left * f.price[f.last()]
}

// bridge gives what the fallback brings in a leg. Where there is none, it is what is not burned for want of
// fuel.
func (f *futures) bridge(position float64, l *leg, out *outcome) float64 {
	if b := f.flown; b != nil {
		litres := loads(max(0, l.fallback-position), b)
		out.Fallback += litres
		out.Flown += litres * b.perLitre()
		return litres
	}
	missing := max(0, l.dry-position)
	out.Missing += missing
	out.Dry = out.Dry || missing > 0
	return missing
}

func usedAt(c *course, occasion int) int {
	for k, u := range c.used {
		if u == occasion {
			return k
		}
	}
	return -1
}

// deliver gives the litres of a used delivery on a path, and books what they cost.
func (f *futures) deliver(c *course, k, path int, position float64, l *leg, out *outcome) float64 {
	o := f.all[c.used[k]]
	most := l.room - position
	if largest, _ := o.window.Largest(l.day); largest < most {
		most = largest
	}
	stock := position - l.gone
	if stock >= c.call[k] {
		return 0
	}
	wanted := c.upTo[k] - stock
	if c.fixed == k+1 {
		wanted = c.litres[k].P50
	}
	if left, by := f.affordable(c, k, path, out.Lots); left < most {
		most = left
		if left < wanted {
			out.Cut = append(out.Cut, by)
		}
	}
	lot := o.window.Lot.Fit(wanted, most)
	if lot == 0 {
		return 0
	}
	t := o.window.Terms
	early := l.day - t.pays(o.ordered, l.day)
	price := f.prices[c.used[k]][path]
	out.Lots[k] = lot
	out.Fixed += t.Fixed
	out.Fuel += lot * price
	out.Carrying += lot * price * f.p.Carrying * float64(early) / yearDays
	return lot
}

// loads gives the litres of the whole loads that cover a shortage.
func loads(short float64, by *Fallback) float64 {
	if by.Load <= 0 {
		return short
	}
	return by.Load * math.Ceil(short/by.Load-1e-9)
}
