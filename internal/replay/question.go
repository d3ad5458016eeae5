package replay

import (
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// planHorizon is how many days a plan looks ahead: to the late end of the window after next.
const planHorizon = 880

// rest is what a window has still to deliver: its visits that are ordered and waiting, then those not ordered yet.
type rest struct {
	year, arrived, waiting int
	after                  int // days after the opening before which none can come
}

// problem states the plant's question. Beside each window stands what it has still to deliver.
func (p *planned) problem(v *view) (*resupply.Problem, []rest) {
	var burn resupply.Outflow = v.ahead.burn()
	if p.sure {
		burn = v.ahead.median()
	}
	n := burn.Count()
	s := v.s
	lead := max(1, int(s.Fallback.Lead+0.5))
	q := &resupply.Problem{
		AsOf: v.asOf, Horizon: planHorizon, Risk: p.risk, Burn: burn, Stock: slices.Repeat([]float64{v.stock}, n),
		Reserve: resupply.Reserve{Days: s.ReserveDays}, Capacity: []resupply.Capacity{{FromDay: 0, Litres: v.plant.Usable}},
		FallbackAt: resupply.Reserve{Days: s.Fallback.AtDays}, Carrying: s.Carrying,
		Fallbacks: []resupply.Fallback{{Route: "fallback", Mode: "air", Load: s.Fallback.Load, LeadDays: lead, Price: s.Fallback.Price, Currency: s.Currency}},
	}
	for _, f := range v.flights { // when they land is not known yet: after the usual time at the latest
		q.Receipts = append(q.Receipts, resupply.Receipt{Litres: f.litres, Day: slices.Repeat([]int{lead}, n)})
	}
	var rests []rest
	for i := range v.outlooks {
		if w, rest := p.window(v, &v.outlooks[i]); w.Terms.Deliveries > 0 {
			q.Windows, rests = append(q.Windows, w), append(rests, rest)
		}
	}
	return q, rests
}

// window gives what a window has still to deliver: it opens, as it were, with the first delivery that has not come.
func (p *planned) window(v *view, o *outlook) (resupply.Window, rest) {
	w, d := o.Window, &v.s.Delivery
	if p.sure {
		w.Opens, w.Closes, w.Lead, w.Slip = []int{median(o.Opens)}, []int{median(o.Closes)}, []int{median(o.Lead)}, []int{0}
	} else {
		w.Opens, w.Lead = slices.Clone(o.Opens), slices.Clone(o.Lead)
	}
	r := rest{year: o.year}
	since := calendar.Day(0) // the order that comes next was placed
	for _, one := range v.ordered(o.year) {
		switch {
		case one.arrived != 0:
			r.arrived++
			r.after = max(r.after, int(one.arrived-v.asOf)-w.Opens[0]+v.s.Window.Apart) // it has opened, on all paths alike
		case r.waiting == 0:
			r.waiting, since = 1, one.on
			r.after = max(r.after, one.after)
		default:
			r.waiting++
		}
	}
	for i := range w.Opens {
		if w.Opens[i] != resupply.Never {
			w.Opens[i] += r.after
		}
		if r.waiting > 0 {
			w.Lead[i] = max(1, w.Lead[i]-int(v.asOf-since))
		}
	}
	if r.waiting > 0 {
		w.OrderBy = new(int)
	}
	w.Terms = resupply.Terms{
		Fixed: d.StopCost, Price: d.Price, Currency: v.s.Currency,
		Deliveries: v.s.Window.Deliveries - r.arrived, Apart: v.s.Window.Apart,
	}
	return w, r
}

func median(days []int) int {
	sorted := slices.Sorted(slices.Values(days))
	return sorted[len(sorted)/2]
}
