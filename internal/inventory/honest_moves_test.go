package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// comes plans the day's deliveries.
func (h *honest) comes(day calendar.Day, on func(time.Time, func())) {
	_, room := h.inReach(day)
	held, _ := h.inReach(day + 1) // a tank may go out of service overnight
	burn := h.perDay * h.step * 1.6
	_, month, ofMonth := day.Civil()
	switch {
	case held < 12*burn+0.05*(held+room): // what nobody planned comes by air
		load := math.Min(20*burn, 0.9*room)
		on(h.hour(day, 6, 20), func() { h.deliver(load) })
	case h.supply == Barge:
		if (month == time.June || month == time.September) && ofMonth == 12 && room > 20*burn {
			on(h.hour(day, 6, 20), func() { h.deliver(0.9 * room) })
		}
	case h.supply == AllSeasonRoad:
		if load := h.loadOf(); room > 1.3*load && held < 0.6*(held+room) {
			on(h.hour(day, 6, 20), func() { h.deliver(load * h.between(0.9, 1)) })
		}
	default:
		if load := h.loadOf(); room > 4*load && held < 0.6*(held+room) {
			for i := range 1 + h.IntN(3) { // the same load on each flight
				on(h.hour(day, 6+4*float64(i), 9+4*float64(i)), func() { h.deliver(load) })
			}
		}
	}
}

// loadOf is what a truck or an aeroplane brings.
func (h *honest) loadOf() float64 {
	held := 0.0
	for _, v := range h.storage {
		held += float64(tanks.Capacity(v.shape))
	}
	return math.Min(math.Max(5*h.perDay, 0.04*held), 0.2*held)
}

// deliver fills the storage tanks one after the other, the emptiest first, and writes the delivery down.
func (h *honest) deliver(litres float64) {
	day := calendar.DayOf(h.now, h.zone)
	at := h.now
	if h.byDay {
		start, _ := day.Bounds(h.zone)
		at = start.Add(12 * time.Hour)
	}
	d := Delivery{Plant: "P", At: at}
	document := h.key("bill").Key
	if h.documents {
		d.Document = document
	}
	if h.orders {
		d.Order = document
		h.rows.Orders = append(h.rows.Orders, &Order{Entry: h.key("order"), Plant: "P", ID: document, State: Received,
			OrderedOn: day - 60, Early: day - 5, Likely: day, Late: day + 10, Measure: at15(units.Litres(litres * h.between(0.9, 1.1)))})
	}
	var whole []*Delivery
	sum := 0.0
	for litres > 1 {
		v := h.emptiest(day)
		part := math.Min(litres, h.room(v)-v.held)
		if part < 1 {
			break
		}
		v.held, litres, sum = v.held+part, litres-part, sum+part
		row := d
		row.Entry, row.Tank, row.Measure = h.key("delivery"), v.row.ID, h.stated(part, h.statesWarmth, MovementPrecision)
		whole = append(whole, &row)
	}
	if len(whole) > 1 && !h.perTank {
		whole[0].Tank, whole[0].Measure = "", h.stated(sum, h.statesWarmth, MovementPrecision)
		whole = whole[:1]
	}
	h.rows.Deliveries = append(h.rows.Deliveries, whole...)
}

func (h *honest) emptiest(day calendar.Day) (found *vessel) {
	for _, v := range h.storage {
		if v.row.Available(day) && v.row.Available(day+1) && (found == nil || h.room(v)-v.held > h.room(found)-found.held) {
			found = v
		}
	}
	return found
}

// leaves plans the day's draws.
func (h *honest) leaves(day calendar.Day, on func(time.Time, func())) {
	held, _ := h.inReach(day)
	if h.regular > 0 {
		on(h.hour(day, 8, 18), func() { h.take(h.regular, nil) })
	}
	if h.chance(0.004) && held > 40*h.perDay {
		purpose, litres := []Purpose{Sale, Loan}[h.IntN(2)], h.perDay*h.scale(0.2, 6)
		if h.chance(0.5) {
			purpose, litres = Vehicles, h.perDay*h.between(0.2, 0.4)
		}
		on(h.hour(day, 8, 18), func() {
			h.take(litres, nil)
			h.draw(day, day, purpose, litres)
		})
	}
}

func (h *honest) draw(first, last calendar.Day, purpose Purpose, litres float64) {
	h.rows.Draws = append(h.rows.Draws, &Draw{Entry: h.key("draw"), Plant: "P", FirstDay: first, LastDay: last, Purpose: purpose,
		With: "somebody", Measure: h.stated(litres, true, 0.01)})
}

// isMoved plans what is moved between the tanks.
func (h *honest) isMoved(day calendar.Day, on func(time.Time, func())) {
	if n := len(h.storage); n > 1 && h.chance(0.008) {
		from, to := h.storage[h.IntN(n)], h.storage[h.IntN(n)]
		if from != to && from.row.Available(day) && to.row.Available(day+1) && to.row.Available(day) {
			on(h.hour(day, 9, 20), func() {
				if litres := math.Min(h.between(0.1, 0.5)*from.held, h.room(to)-to.held); litres > 0.02*h.room(from) {
					from.held, to.held = from.held-litres, to.held+litres
					h.transfer(from.row.ID, to.row.ID, litres)
				}
			})
		}
	}
	if h.day != nil && h.chance(0.01) { // pumped down after an overfill
		on(h.hour(day, 0, 24), func() {
			litres := 0.05 * h.room(h.day)
			if v := h.emptiest(day); h.room(v)-v.held > litres {
				h.day.held, v.held = h.day.held-litres, v.held+litres
				h.transfer("day", v.row.ID, litres)
			}
		})
	}
}

func (h *honest) transfer(from, to string, litres float64) {
	h.rows.Transfers = append(h.rows.Transfers, &Transfer{Entry: h.key("transfer"), Plant: "P", From: from, To: to, At: h.now,
		Measure: h.stated(litres, h.readsWarmth, 0.01)})
}

// stated is a volume as it was written down, wrong by a share.
func (h *honest) stated(litres float64, warm bool, wrong float64) Measure {
	observed := units.Litres(litres / h.vcf(h.warmth()) * (1 + wrong*h.NormFloat64()))
	m := Measure{Volume: h.whole(observed)}
	if warm {
		m.Temperature = h.thermometer()
	}
	return m
}

// whole rounds a volume to the unit in which it was written down.
func (h *honest) whole(v units.Litres) units.Litres {
	unit := units.Litres(1)
	if h.inGallons {
		unit = units.LitresPerUSGallon
	}
	return units.Litres(math.Round(float64(v/unit))) * unit
}

func (h *honest) thermometer() *units.Celsius {
	t := h.warmth() + h.NormFloat64()
	if h.inGallons {
		return ptr(units.Celsius((math.Round(1.8*t+32) - 32) / 1.8))
	}
	return ptr(units.Celsius(math.Round(t)))
}
