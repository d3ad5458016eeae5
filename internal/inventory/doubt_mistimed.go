package inventory

import (
	"math"
	"time"
)

// mistimedBy is how long before or after it came a delivery may be written down: a day late, over a free day. Common practice, no
// source.
const mistimedBy = 48 * time.Hour

// mistimed finds the delivery that a gauging holds already, though it is written down as of later, or lacks still, though it is written
// down as of before: the tank rose by as much, as closely as the dips and the burn tell, where nothing came in. Nil where there is none.
func (l *tankLine) mistimed(before, g, after *measuredGauging, cause Cause) (found *Delivery) {
	var s span
	var near []*Delivery
	switch {
	case cause == RiseUnexplained && before != nil:
		s = span{[]*measuredGauging{before}, []*measuredGauging{g}}
		near = l.deliveriesWithin(g.At, g.At.Add(mistimedBy))
	case cause == FallUnexplained && after != nil:
		s = span{[]*measuredGauging{g}, []*measuredGauging{after}}
		near = l.deliveriesWithin(g.At.Add(-mistimedBy), g.At)
	default:
		return nil
	}
	r, ok := l.rose(s, []*tankLine{l})
	if !ok {
		return nil
	}
	best := math.Inf(1)
	for _, d := range near {
		if l.leftOut[d] || !d.At.Before(l.close()) || !l.brings(d) || d.Tank != l.tank.ID && (d.Tank != "" || len(l.sisters) > 1) {
			continue
		}
		v := l.litres(d.Measure)
		fits := litreRange{r.likely - r.tight - runMargin*v, r.likely + r.tight + runMargin*v}
		if off := math.Abs(r.given + v - r.likely); fits.has(r.given+v) && fits.explains(v) && off < best {
			found, best = d, off
		}
	}
	return found
}

// nameMistimed doubts a gauging for the sake of a delivery's time.
func (l *tankLine) nameMistimed(g *measuredGauging, d *Delivery, scope Scope, low, high float64) {
	l.mistimedBills[d] = true
	l.tell(g, DeliveryMistimed, scope, low, high, "the delivery of "+d.At.In(l.Zone).Format(minutes)+
		" accounts for that, and its time seems to be wrong: correct that first"+todo(scope, "what came and went before it"))
}
