package replay

import (
	"fmt"
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
)

// visit is one delivery of a window: which of those ordered, from 0.
type visit struct{ year, nth int }

// call asks for a visit: so many days after the opening, or as soon after that as the lead time allows.
type call struct {
	visit
	after int
}

// order is a call that was placed.
type order struct {
	call
	on      calendar.Day
	arrived calendar.Day // 0 until then
}

// flight is fuel on its way by the fallback.
type flight struct {
	litres  float64
	arrives calendar.Day
}

// run is one plant under one policy in one world.
type run struct {
	s      *Scenario
	plant  *Plant
	went   map[int]season
	seed   uint64 // of the world
	policy policy

	seen     *view // of the last decision
	stock    float64
	orders   []order
	flights  []flight
	failures []calendar.Day // on which windows that failed usually open
	failed   bool           // the last window did, and nothing has been delivered since
	score    Score
}

func newRun(s *Scenario, p *Plant, policy policy, world int, seed uint64, went map[int]season) *run {
	stock := s.OpeningShare * p.Usable
	r := &run{
		s: s, plant: p, went: went, seed: seed, policy: policy, stock: stock,
		score: Score{Plant: p, Policy: policy.name(), World: world, Opening: stock},
	}
	for _, w := range went {
		if w.fails {
			r.failures = append(r.failures, w.usual)
		}
	}
	return r
}

// day lives through a day: what arrives, what is burned, and what the close of the day finds.
func (r *run) day(day calendar.Day) {
	for i := range r.orders {
		if r.due(&r.orders[i], day) {
			r.deliver(&r.orders[i], day)
		}
	}
	r.land(day)
	wanted := r.plant.use.on(day)
	burned := min(wanted, r.stock)
	r.stock -= burned
	r.score.Days++
	r.score.Burned += burned
	if burned < wanted {
		r.score.Unserved += wanted - burned
		r.score.Dry++
	}
	r.score.Carrying += r.stock * r.s.Delivery.Price * r.s.Carrying / yearDays
	r.failed = r.failed || slices.Contains(r.failures, day)
	if r.stock < r.plant.use.coming(day, r.s.ReserveDays) {
		r.score.Below++
		if r.failed {
			r.score.BelowAfterFailed++
		}
	}
	r.fly(day)
}

const yearDays = 365.25

// due tells that an order arrives on a day: its window is open, its turn has come, and its lead time is over.
func (r *run) due(o *order, day calendar.Day) bool {
	w, known := r.went[o.year]
	if o.arrived != 0 || !known || w.fails || day > w.closes {
		return false
	}
	earliest := max(w.opens+calendar.Day(o.after), o.on+calendar.Day(w.lead))
	for _, other := range r.orders {
		if other.year == o.year && other.arrived != 0 {
			earliest = max(earliest, other.arrived+calendar.Day(r.s.Window.Apart))
		}
	}
	return day >= earliest
}

// deliver fills up to the policy's level, as the route's lots and the room allow. The litres are fixed by the stock of the
// day; a visit that brings nothing costs nothing.
func (r *run) deliver(o *order, day calendar.Day) {
	o.arrived = day
	lot := r.s.Delivery.Lot.Fit(r.policy.level(r.seen, o.visit, day)-r.stock, r.plant.Usable-r.stock)
	if lot <= 0 {
		return
	}
	r.stock += lot
	r.failed = false
	r.score.Deliveries++
	r.score.Delivered += lot
	r.score.Stops += r.s.Delivery.StopCost
	r.score.Fuel += lot * r.s.Delivery.Price
}

// fly buys whole loads of the fallback when the stock, with what is on its way, is below the days of coming burn at which it
// is bought.
func (r *run) fly(day calendar.Day) {
	f := &r.s.Fallback
	short := r.plant.use.coming(day, f.AtDays) - r.stock
	for _, one := range r.flights {
		short -= one.litres
	}
	if short <= 0 {
		return
	}
	lead := resupply.NewDraws(r.seed, fmt.Sprintf("fallback/%s", r.plant.ID), int(day)).Delay(f.Lead, f.LeadSD)
	r.flights = append(r.flights, flight{f.Load * math.Ceil(short/f.Load), day + calendar.Day(max(1, lead))})
}

// land takes in the loads that arrive; only what there is room for is taken and paid.
func (r *run) land(day calendar.Day) {
	waiting := r.flights[:0]
	for _, one := range r.flights {
		if one.arrives > day {
			waiting = append(waiting, one)
			continue
		}
		litres := min(one.litres, r.plant.Usable-r.stock)
		r.stock += litres
		r.score.Fallback += litres
		r.score.Flown += litres * r.s.Fallback.Price
	}
	r.flights = waiting
}

// close ends the account.
func (r *run) close() Score {
	r.score.Closing = r.stock
	r.score.Left = r.stock * r.s.Delivery.Price
	return r.score
}
