package resupply

import (
	"slices"
	"testing"

	"overwinter/internal/calendar"
)

// plants is how many random plants a property is held against.
const plants = 200

// lost gives the days on which the paths reach the reserve.
func lost(p *Problem) []int {
	p.hold()
	return perPath(p.Burn.Count(), func(s int) int { return p.firstBelow(s, 0, p.Horizon) })
}

// Of every window the last day is not later; where the plant's is, it orders from another window, or none holds any
// more, or one does that did not.
func TestMoreLeadTimeNeverMakesTheOrderLater(t *testing.T) {
	for seed := range uint64(plants) {
		r := newDraw(seed)
		p := r.plant()
		q := p.lead(r.day(1, 40)).problem
		without, with := lost(p), lost(&q)
		for i := range p.Windows {
			if a, b := p.orderFrom(i, without), q.orderFrom(i, with); b.By.Day > a.By.Day {
				t.Fatalf("plant %d window %d: order by day %d, with more lead time by day %d", seed, i, a.By.Day, b.By.Day)
			}
		}
		a, b := Decide(p), Decide(&q)
		if isLater(a.Order, b.Order) && a.Order.index == b.Order.index && (a.Status == Short) == (b.Status == Short) {
			t.Fatalf("plant %d: order by day %d, with more lead time by day %d", seed, a.Order.By.Day, b.Order.By.Day)
		}
	}
}

func isLater(a, b *Order) bool { return a != nil && b != nil && b.By.Day > a.By.Day }

// A window that opens and closes later gives more time only where it was its closing that decided; else the order
// is from another window, or the plant has become short. The steps of the later answer say which.
func TestALaterWindowMakesTheOrderLaterOnlyForAReasonThatIsNamed(t *testing.T) {
	more := 0
	for seed := range uint64(plants) {
		r := newDraw(seed)
		p := r.plant()
		a := Decide(p)
		if a.Order == nil || a.Order.Window.AllYear {
			continue
		}
		q := p.postponed(a.Order.index, r.day(1, 40))
		b := Decide(&q)
		if !isLater(a.Order, b.Order) {
			continue
		}
		more++
		x, err := read(b.Explanation)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case b.Status == Short:
			if x.step("covers-shortage") == nil {
				t.Errorf("plant %d: short, and the steps do not say so", seed)
			}
		case b.Order.index != a.Order.index: // the answer names its window
		case a.Status == Short:
			if was, _ := read(a.Explanation); was.step("window-order-day-passed") == nil && was.step("window-may-close-too-soon") == nil {
				t.Errorf("plant %d: short no more, and nothing said that the window closes too soon", seed)
			}
		case a.Explanation.Guard != WindowGuard:
			t.Errorf("plant %d: order by day %d for the %s, with a later window by day %d for the %s",
				seed, a.Order.By.Day, a.Explanation.Guard, b.Order.By.Day, b.Explanation.Guard)
		case b.Explanation.Guard == WindowGuard && x.step("window-closes-after") == nil:
			t.Errorf("plant %d: the steps do not say when the window closes: %+v", seed, x.Steps)
		}
	}
	if more < 10 {
		t.Errorf("only %d plants order later with a later window", more)
	}
}

// postponed is a problem in which a window opens and closes later.
func (p *Problem) postponed(index, days int) Problem {
	add := func(to []int) []int {
		return perPath(len(to), func(s int) int {
			if to[s] == Never {
				return Never
			}
			return to[s] + days
		})
	}
	return p.but(func(q *Problem) {
		w := &q.Windows[index]
		w.Opening, w.Opens, w.Closes = w.Opening+calendar.Day(days), add(w.Opens), add(w.Closes)
	})
}

// Where more room lets an order on its way unload more, less may be needed: such plants are left out.
func TestMoreRoomNeverMakesTheLotSmaller(t *testing.T) {
	grown := 0
	for seed := range uint64(plants) {
		r := newDraw(seed)
		p := r.plant()
		if p.Reserve.Share > 0 { // more room is more reserve
			continue
		}
		q := p.but(func(q *Problem) {
			for i := range q.Capacity {
				q.Capacity[i].Litres += r.between(1, 30_000)
			}
		})
		a, b := Decide(p), Decide(&q)
		if a.Order == nil || !allFits(p) {
			continue
		}
		if a.Order.By != b.Order.By || b.Order.Lot.Lot < a.Order.Lot.Lot {
			t.Fatalf("plant %d: %+v, with more room %+v", seed, a.Order, b.Order)
		}
		if b.Order.Lot.Lot > a.Order.Lot.Lot {
			grown++
		}
	}
	if grown < 10 {
		t.Errorf("only %d lots grew with the room", grown)
	}
}

func allFits(p *Problem) bool {
	for i := range p.Receipts {
		r := &p.Receipts[i]
		for s := range r.Day {
			if r.on(s) < r.Litres {
				return false
			}
		}
	}
	return true
}

// With three times of every volume no date changes, and every lot is three times as large: exactly so where all
// volumes are in whole litres, as every walk is.
func TestThreeTimesOfEveryVolumeIsThreeTimesTheLotByTheSameDate(t *testing.T) {
	for seed := range uint64(plants) {
		p := newDraw(seed).plant().timesWhole(1)
		if p.Reserve.Share > 0 { // its share is in whole litres in neither
			continue
		}
		q := newDraw(seed).plant().timesWhole(3)
		a, b := Decide(p), Decide(q)
		if a.Status != b.Status || (a.Order == nil) != (b.Order == nil) || !sameDates(a, b) {
			t.Fatalf("plant %d: %+v became %+v", seed, a, b)
		}
		if 3*a.missing() != b.missing() {
			t.Fatalf("plant %d: %v L missing became %v", seed, a.missing(), b.missing())
		}
		if a.Order != nil && (a.Order.By != b.Order.By || 3*a.Order.Lot.Lot != b.Order.Lot.Lot) {
			t.Fatalf("plant %d: %+v became %+v", seed, a.Order, b.Order)
		}
	}
}

func sameDates(a, b Decision) bool {
	same := func(a, b *calendar.Day) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }
	for _, d := range [][2]Dates{{a.ReserveDate, b.ReserveDate}, {a.DryDate, b.DryDate}} {
		if !same(d[0].P10, d[1].P10) || !same(d[0].P50, d[1].P50) || !same(d[0].P90, d[1].P90) {
			return false
		}
	}
	return true
}

// timesWhole takes every volume to whole litres, and then so many times.
func (p *Problem) timesWhole(k float64) *Problem {
	of := func(litres float64) float64 { return k * whole(litres) }
	q := p.but(func(q *Problem) {
		q.Burn = wholeTimes{p.Burn, k}
		q.Stock = perPath(len(p.Stock), func(s int) float64 { return of(p.Stock[s]) })
		q.Reserve.Litres = of(p.Reserve.Litres)
		if p.Draws != nil {
			q.Draws = perPath(len(p.Draws), func(d int) float64 { return of(p.Draws[d]) })
		}
		for i := range q.Capacity {
			q.Capacity[i].Litres = of(q.Capacity[i].Litres)
		}
		for i := range q.Receipts {
			q.Receipts[i].Litres = of(q.Receipts[i].Litres)
		}
		for i := range q.Windows {
			l := &q.Windows[i].Lot
			l.Min, l.Max, l.Step = of(l.Min), of(l.Max), of(l.Step)
			q.Windows[i].Limits = slices.Clone(q.Windows[i].Limits)
			for d := range q.Windows[i].Limits {
				q.Windows[i].Limits[d].Litres = of(q.Windows[i].Limits[d].Litres)
			}
		}
		q.Fallbacks = slices.Clone(p.Fallbacks)
		for i := range q.Fallbacks {
			q.Fallbacks[i].Load = of(q.Fallbacks[i].Load)
		}
	})
	return &q
}

// wholeTimes is an outflow in so many times its whole litres.
type wholeTimes struct {
	Outflow
	times float64
}

func (w wholeTimes) Cumulative(path, day int) float64 {
	return w.times * whole(w.Outflow.Cumulative(path, day))
}
