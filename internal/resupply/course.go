package resupply

import (
	"math"
	"slices"

	"overwinter/internal/lots"
	"overwinter/internal/units"
)

// course is a way to supply the plant: which deliveries are used, and to which level in the tanks each is
// filled up. The levels are what it is carried out by: on each path the litres follow from what is left.
type course struct {
	used []int      // occasions in order
	upTo []float64  // by used
	call []float64  // by used: with as much in the tanks or more the delivery is not called for
	plan *lots.Plan // by medians; window 0 stands for the time before the first delivery
	cost float64    // of the plan by medians; once judged, what to expect
	left float64    // worth of what the plan leaves in the tanks at its end
	lack float64    // litres of need for which the tanks have no room

	limits []lots.Limit // of what is spent; they hold on every path

	litres []Litres // by used, once carried out on the paths
	// fixed is the lot, from 1, whose litres are those of the plan whatever the stock of the day of delivery.
	fixed int
}

// problem states the lots of a course as docs/lots.md does. The need until the next delivery is reckoned from
// the level at which the lot fills the tanks, since each lot is fixed when its time comes, by the stock of
// that day: only what is uncertain within the stretch counts, not what will be known by then.
func (f *futures) problem(c *course) *lots.Plant {
	fallback := f.fallback()
	plant := &lots.Plant{Windows: []lots.Window{{Need: f.need(c, -1), Room: units.LitresAt15(math.Inf(1)), Fallback: fallback}}}
	for k, u := range c.used {
		o, t := f.all[u], f.all[u].window.Terms
		limits := o.window.Lot
		limits.Max, _ = o.window.Largest(o.median)
		end := f.all[f.next(c, k)].median
		plant.Windows = append(plant.Windows, lots.Window{
			Name: o.name(), Need: f.need(c, k), Room: f.room(c, k),
			Min: units.LitresAt15(limits.Min), Max: units.LitresAt15(limits.Max), Step: units.LitresAt15(limits.Step),
			Fixed: lots.Money(t.Fixed), Price: lots.Price(f.unit(u)), Fallback: fallback,
			Carrying: lots.Price(f.p.Carrying * f.price[u] * float64(end-o.median) / yearDays),
		})
	}
	c.lack = cutNeeds(plant.Windows)
	c.limits = f.limits(c)
	plant.Limits = c.limits
	return plant
}

// next is the occasion that ends the stretch of the k-th used.
func (f *futures) next(c *course, k int) int {
	if k+1 < len(c.used) {
		return c.used[k+1]
	}
	return f.last()
}

// unit is what a litre costs by the time it is in the tanks: the price, and interest where it is paid before.
func (f *futures) unit(u int) float64 {
	o := f.all[u]
	early := o.median - o.window.Terms.pays(o.ordered, o.median)
	return f.price[u] * (1 + f.p.Carrying*float64(early)/yearDays)
}

// need is what must have been delivered by the end of the stretch of the k-th used, −1 for that before the
// first.
func (f *futures) need(c *course, k int) units.LitresAt15 {
	from, gone := -1, 0.0
	if k >= 0 {
		from = c.used[k]
		gone = f.gone[from]
	}
	to := f.next(c, k)
	return units.LitresAt15(max(gone+f.of(from, to).least(f.left(to))-f.stock, -f.stock))
}

// room is the most that may have been delivered with the lot of the k-th used.
func (f *futures) room(c *course, k int) units.LitresAt15 {
	u := c.used[k]
	level := f.of(u, f.next(c, k)).most(f.p.Risk)
	return units.LitresAt15(max(f.gone[u]+level-f.stock, 0))
}

// cutNeeds takes from each need what no room is left for by the next delivery, and gives the most that it
// took: a reserve beside a small tank, or a use so uncertain that both bounds cross.
func cutNeeds(windows []lots.Window) (lack float64) {
	room := units.LitresAt15(math.Inf(1))
	for w := len(windows) - 1; w >= 0; w-- {
		if over := windows[w].Need - room; over > 0 {
			windows[w].Need, lack = room, max(lack, float64(over))
		}
		room = min(room, windows[w].Room)
		windows[w].Room = room
	}
	return lack
}

// limits turns what is to be spent into limits of the deliveries that are ordered in its time.
func (f *futures) limits(c *course) []lots.Limit {
	var all []lots.Limit
	for _, s := range f.p.Spending {
		l := lots.Limit{Name: s.Name}
		for k, u := range c.used {
			if day := f.all[u].ordered; day >= s.FromDay && day <= s.UntilDay {
				l.Windows = append(l.Windows, k+1)
			}
		}
		if l.Windows == nil {
			continue
		}
		if s.Litres != nil {
			litres := units.LitresAt15(*s.Litres)
			l.Litres = &litres
		}
		if s.Money != nil {
			money := lots.Money(*s.Money)
			l.Money = &money
		}
		all = append(all, l)
	}
	return all
}

// dearest prices fuel for which there is no way at all, in times the dearest other, so that a plan does without
// wherever it can.
const dearest = 20

// fallback is the cheapest way that is always open, by the litre: in whole loads only where a course is carried out. Where none has a price, what is missing is not free
// either.
func (f *futures) fallback() *lots.Fallback {
	if b := f.flown; b != nil {
		return &lots.Fallback{Price: lots.Price(b.perLitre())}
	}
	top := 1.0
	for _, price := range f.price {
		top = max(top, price)
	}
	return &lots.Fallback{Price: lots.Price(dearest * top)}
}

// cheapest is the fallback with the least known price, nil where none has one.
func (p *Problem) cheapest() *Fallback {
	var least *Fallback
	for i := range p.Fallbacks {
		if b := &p.Fallbacks[i]; b.Price > 0 && (least == nil || b.perLitre() < least.perLitre()) {
			least = b
		}
	}
	return least
}

// perLitre is what a litre costs in full loads.
func (f *Fallback) perLitre() float64 {
	if f.Load <= 0 {
		return f.Price
	}
	return f.Price + f.Fixed/f.Load
}

// settle finds the best lots of a course and its levels. It reports false where there is no plan. A lot of
// nothing stands for a delivery that is called for only where the stock of the day asks for it.
func (f *futures) settle(c *course) bool {
	plant := f.problem(c)
	plan, err := plant.Best()
	if err != nil {
		return false
	}
	in := f.stock + float64(plan.Fallback[0])
	c.upTo = make([]float64, len(c.used))
	for k, u := range c.used {
		in += float64(plan.Lots[k+1])
		c.upTo[k] = in - f.gone[u]
		in += float64(plan.Fallback[k+1])
	}
	c.call = slices.Clone(c.upTo)
	c.plan, c.cost = plan, float64(plan.Cost.Total)
	c.left = (in - f.gone[f.last()]) * f.price[f.last()]
	return true
}
