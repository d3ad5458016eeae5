package scenario

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// event reads what happened at a moment, nil where the line tells of nothing known.
func (s *script) event(l *line, at time.Time) inventory.Record {
	plant := s.plant.ID
	switch {
	case l.next("reading", "of"):
		return &inventory.MeterReading{Plant: plant, Meter: l.word(), At: at, Register: needed[float64](l, "", ""), Temperature: l.temperature()}
	case l.next("gauging", "of"):
		return &inventory.Gauging{
			Plant: plant, Tank: l.word(), At: at, Depth: quantity[units.Millimetres](l, "depth", "mm"),
			Ullage: quantity[units.Millimetres](l, "ullage", "mm"), Gauge: l.gauge(),
			Volume: quantity[units.Litres](l, "", "L"), Water: quantity[units.Millimetres](l, "water", "mm"), Temperature: l.temperature(),
			Moving: l.flag("moving"),
		}
	case l.next("swap", "of"):
		return &inventory.MeterSwap{
			Plant: plant, Meter: l.word(), At: at,
			Closing: quantity[float64](l, "closing", ""), Opening: quantity[float64](l, "opening", ""),
		}
	case l.next("proving", "of"):
		return &inventory.Proving{Plant: plant, Meter: l.word(), At: at, Factor: needed[float64](l, "factor", "")}
	case l.next("product", "change", "of"):
		return &inventory.ProductChange{Plant: plant, Tank: l.word(), At: at, Product: inventory.Product(l.text("to"))}
	case l.next("round"):
		return &inventory.Round{Plant: plant, At: at, EnergyRegister: quantity[float64](l, "energy", "kWh")}
	case l.next("confirmation", "of"):
		return &inventory.Confirmation{Plant: plant, Of: inventory.Kind(l.text("kind")), Row: s.keyOf(l.word())}
	}
	return s.movement(l, at)
}

// movement reads what came in or was moved.
func (s *script) movement(l *line, at time.Time) inventory.Record {
	plant := s.plant.ID
	switch {
	case l.next("delivery"):
		d := &inventory.Delivery{
			Plant: plant, At: at, Measure: l.measure(), Order: l.text("order"), Document: l.text("document"),
			Product: inventory.Product(l.text("product")), ByDocument: l.stated("papers"), ByMeter: l.stated("metered"),
		}
		if l.next("into") {
			d.Tank = l.word()
		}
		return d
	case l.next("transfer"):
		t := &inventory.Transfer{Plant: plant, From: l.word(), At: at}
		l.next("to")
		t.To = l.word()
		t.Measure, t.Open, t.PlannedStop = l.measure(), l.flag("open"), l.moment("planned stop")
		return t
	case l.next("order"):
		day := calendar.DayOf(at, s.zone)
		o := &inventory.Order{Plant: plant, ID: l.word(), OrderedOn: day, Measure: l.measure(), State: inventory.OrderState(l.text("state"))}
		o.Early, o.Likely, o.Late = orZero(l.day("early")), orZero(l.day("likely")), orZero(l.day("late"))
		return o
	}
	return nil
}

// stretch reads what is known of whole days, both included.
func (s *script) stretch(l *line, first, last calendar.Day) inventory.Record {
	plant := s.plant.ID
	switch {
	case l.next("total"):
		return &inventory.PeriodTotal{Plant: plant, FirstDay: first, LastDay: last, Energy: quantity[float64](l, "energy", "kWh"), Measure: l.measure()}
	case l.next("draw", "for"):
		return &inventory.Draw{Plant: plant, FirstDay: first, LastDay: last, Purpose: inventory.Purpose(l.word()), With: l.text("with"), Measure: l.measure()}
	case l.next("count", "correction"):
		return &inventory.CountCorrection{Plant: plant, Day: last, Product: s.plant.Product, Measure: l.measure()}
	}
	return nil
}

// gauge reads what a tank was gauged with: by tape.
func (l *line) gauge() tanks.Gauge {
	said, _ := l.take("by")
	return tanks.Gauge(said)
}

// measure reads a volume with its temperature, or corrected to 15 °C.
func (l *line) measure() inventory.Measure {
	m := inventory.Measure{Volume: orZero(quantity[units.Litres](l, "", "L")), Temperature: l.temperature()}
	if l.flag("corrected") {
		m.Basis = inventory.Basis15
	}
	return m
}

// stated reads what papers or a meter said of a delivery.
func (l *line) stated(by string) inventory.DeliveryFigure {
	f := inventory.DeliveryFigure{Temperature: quantity[units.Celsius](l, by+" at", "C")}
	if l.flag(by + " corrected") {
		f.Basis = inventory.Basis15
	}
	f.Volume = quantity[units.Litres](l, by, "L")
	return f
}
