package demo

import (
	"math"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// source gives the tanks that feed the day tank: the intermediate tank where there is one.
func (s *site) source() []*tank {
	if s.middle != nil {
		return []*tank{s.middle}
	}
	return s.storage
}

// fill passes fuel through the meter into the day tank.
func (s *site) fill(litres15 float64) {
	if s.middle != nil && s.middle.usableL15() < litres15 {
		s.pumpUp(litres15)
	}
	s.take(s.source(), litres15, func(from *tank, part float64) {
		s.day.put(part, from.temperatureC)
		if s.meter != nil {
			s.meter.run(part, part/from.vcf())
		}
	})
}

// pumpUp moves fuel from storage to the intermediate tank up to its safe fill, and at least enough for the
// given need.
func (s *site) pumpUp(needL15 float64) {
	wanted := min(max(s.middle.roomL()*s.middle.vcf(), needL15), s.storedL15())
	s.take(s.storage, wanted, func(from *tank, part float64) {
		s.middle.put(part, from.temperatureC)
		s.noteTransfer(from, s.middle, part)
	})
}

// take empties tanks in their order until it has the litres at 15 °C. What the suctions cannot reach
// stays; the emergency deliveries see to it that this never falls short, and a failure to do so is a
// slip in our own tables.
func (s *site) take(from []*tank, litres15 float64, give func(from *tank, part float64)) {
	const drop = 1e-6
	for _, t := range from {
		part := min(litres15, t.usableL15())
		if part > drop && t.row.Available(s.today) {
			t.fuelL15 -= part
			litres15 -= part
			give(t, part)
		}
	}
	if litres15 > drop {
		panic("demo: " + s.spec.plant.ID + " ran dry on " + s.today.String())
	}
}

// noteTransfer writes a transfer between own tanks down, as read off a pump's counter.
func (s *site) noteTransfer(from, to *tank, litres15 float64) {
	observed := around(s.reading, litres15/from.vcf(), transferErrorShare)
	s.rows.Add(&inventory.Transfer{
		Entry:   inventory.Entry{Key: s.key(from.row.ID, to.row.ID, s.stamp())},
		Measure: s.measure(observed, from.temperatureC),
		Plant:   s.spec.plant.ID, From: from.row.ID, To: to.row.ID, At: s.now,
	})
}

// Relative errors of written-down volumes, one standard deviation. Common practice, no source.
const (
	transferErrorShare = 0.01
	deliveryErrorShare = 0.002
	drawErrorShare     = 0.01
	totalErrorShare    = 0.005
)

// measure states an observed volume as the plant's people do.
func (s *site) measure(observedL, temperatureC float64) inventory.Measure {
	m := inventory.Measure{Volume: s.wholeVolume(observedL)}
	if t := s.thermometer(temperatureC); t != nil {
		m.Temperature, m.Basis = t, inventory.BasisObserved
	}
	return m
}

// wholeVolume rounds to the unit in which the plant writes volumes.
func (s *site) wholeVolume(litres float64) units.Litres {
	if s.spec.plant.Display.Volume == "us_gal" {
		return units.Litres(math.Max(1, math.Round(litres/gal)) * gal)
	}
	return units.Litres(math.Max(1, math.Round(litres)))
}

// act does what the afternoon brings: scripted events, deliveries, draws, and the pumping up.
func (s *site) act(events []event) {
	s.drainWater()
	for _, e := range events {
		s.happen(e)
	}
	s.drawToday()
	s.rescue()
	if s.middle != nil && s.middle.standsL() < pumpUpBelow*s.middle.safeFillL {
		s.now = s.clock(actionHour, 30)
		s.pumpUp(0)
	}
}

// pumpUpBelow is the share of safe fill at which the intermediate tank is pumped up.
const pumpUpBelow = 0.4

// drainWater is done on the first of May and October.
func (s *site) drainWater() {
	_, month, d := s.today.Civil()
	if d == 1 && (month == time.May || month == time.October) {
		for _, t := range s.storage {
			t.waterMM = min(t.waterMM, drainedMM)
		}
	}
}

// Water at the bottom of a storage tank, in millimetres. Common practice, no source.
const (
	drainedMM   = 8
	broughtMM   = 6 // by one delivery
	waterErrSD  = 2
	dipErrSD    = 3
	thermoErrSD = 1 // °C
)

// happen carries out one scripted event.
func (s *site) happen(e event) {
	switch e.kind {
	case handFill:
		s.take(s.source(), e.litres, func(from *tank, part float64) {
			s.day.put(part, from.temperatureC)
			s.noteTransfer(from, s.day, part)
		})
	case pumpDown:
		to := s.source()[0]
		s.take([]*tank{s.day}, e.litres, func(from *tank, part float64) {
			to.put(part, from.temperatureC)
			s.noteTransfer(from, to, part)
		})
	case meterSwap:
		s.swapMeter(e.litres)
	case lend:
		s.take(s.bulk(), e.litres, func(*tank, float64) {})
		s.fault(UnrecordedDraw, "", "fuel lent to a neighbour and not written down")
	case leaveEmpty:
		for _, t := range s.storage {
			t.skipFill = t.skipFill || t.row.ID == e.tank
		}
	case lightDelivery:
		s.carry = e.carry + days(carrySpreadDays*s.moving.NormFloat64())
	case delivery:
		s.receive(*e.call, e.order)
	default:
		s.pending = append(s.pending, e)
	}
}

// carrySpreadDays spreads the day to which a light delivery reaches.
const carrySpreadDays = 6

func (s *site) swapMeter(opening float64) {
	closing := s.meter.register()
	s.meter.swap(opening, s.moving)
	s.rows.Add(&inventory.MeterSwap{
		Entry: inventory.Entry{Key: s.key(s.meter.row.ID, "swap", s.stamp())},
		Plant: s.spec.plant.ID, Meter: s.meter.row.ID, At: s.now,
		Closing: &closing, Opening: new(s.meter.register()),
	})
}

func (s *site) fault(kind FaultKind, key, note string) {
	s.faults = append(s.faults, Fault{Kind: kind, Key: key, Day: s.today, Note: note})
}
