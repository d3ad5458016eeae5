package demo

import (
	"fmt"
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// timetable puts scripted events and the deliveries of past seasons on their days.
func (s *site) timetable() map[calendar.Day][]event {
	table := map[calendar.Day][]event{}
	for _, e := range s.spec.events {
		table[e.day] = append(table[e.day], e)
	}
	for i := range s.spec.calls {
		for _, season := range s.seasons {
			s.schedule(table, &s.spec.calls[i], season)
		}
	}
	return table
}

// schedule puts one season's deliveries of a call on their days. They come in the order of sailing after
// the opening, with slip, and not after the closing.
func (s *site) schedule(table map[calendar.Day][]event, c *call, season Season) {
	if season.Route != c.route || season.Window != c.window || season.Lost {
		return
	}
	slip := max(0, c.afterDays+c.spreadDays*s.moving.NormFloat64())
	for n := range max(c.times, 1) {
		arrives := season.Opens + days(slip+float64(n)*c.everyDays)
		if arrives < FirstDay || arrives > AsOf || arrives > season.Closes {
			continue
		}
		order := fmt.Sprintf("%s-%d", season.Window, season.Year)
		if c.separate {
			order = fmt.Sprintf("%s-%d", order, n+1)
		}
		table[arrives] = append(table[arrives], event{day: arrives, kind: delivery, call: c, order: order})
	}
}

// receive takes one delivery in, as far as there is room, and writes delivery and order down.
func (s *site) receive(c call, order string) {
	wanted := s.roomL15(c.arrivesC)
	if c.lotL15 > 0 {
		wanted = min(wanted, c.lotL15)
	}
	if s.carry != 0 {
		wanted = min(wanted, max(0, s.neededUntil(s.carry)-s.usableL15()))
		s.carry = 0
	}
	if wanted < leastDeliveryL15 {
		return
	}
	s.unload(wanted, c.arrivesC, order)
	s.enterOrder(order, c.route, wanted)
}

// leastDeliveryL15 is what a vessel or truck does not stop for. Common practice, no source.
const leastDeliveryL15 = 5000

// neededUntil is the true outflow from today to the day before a given one.
func (s *site) neededUntil(day calendar.Day) float64 {
	sum := 0.0
	for d := s.today; d < day; d++ {
		sum += float64(s.burned[d-FirstDay] + s.drawn[d-FirstDay])
	}
	return sum
}

// fillable tells which storage tanks take deliveries.
func (s *site) fillable(t *tank) bool { return !t.skipFill && t.row.Available(s.today) }

func (s *site) roomL15(temperatureC float64) float64 {
	room := 0.0
	for _, t := range s.storage {
		if s.fillable(t) {
			room += t.roomL() * vcf(s.corrector, temperatureC)
		}
	}
	return room
}

// unload puts fuel into the storage tanks in their order.
func (s *site) unload(litres15, temperatureC float64, order string) {
	factor := vcf(s.corrector, temperatureC)
	left := litres15
	for _, t := range s.storage {
		part := min(left, t.roomL()*factor)
		if part <= 0 || !s.fillable(t) {
			continue
		}
		t.put(part, temperatureC)
		t.waterMM += broughtMM
		left -= part
		if s.spec.habits.splitByTank {
			s.noteDelivery(part/factor, temperatureC, t.row.ID, order)
		}
	}
	if !s.spec.habits.splitByTank {
		s.noteDelivery((litres15-left)/factor, temperatureC, "", order)
	}
	s.receivedL15 += litres15 - left
}

func (s *site) noteDelivery(observedL, temperatureC float64, tank, order string) {
	if silent := s.spec.habits.silentAfter; silent != 0 && s.today > silent {
		return
	}
	d := &inventory.Delivery{
		Entry:   inventory.Entry{Key: s.key("delivery", tank, s.stamp())},
		Measure: s.measure(around(s.reading, observedL, deliveryErrorShare), temperatureC),
		Plant:   s.spec.plant.ID, Tank: tank, At: s.now,
		Document: "BL " + s.today.String() + " " + s.spec.plant.ID,
	}
	if order != "" {
		d.Order = s.spec.plant.ID + "-" + order
	}
	s.rows.Add(d)
}

// rescue flies fuel in before the plant runs dry. It seldom happens: a seed with a high burn and a late
// season.
func (s *site) rescue() {
	if s.usableL15() >= s.neededUntil(s.today+rescueBelowDays) {
		return
	}
	load := max(s.spec.airL15, s.neededUntil(s.today+rescueForDays))
	loads := math.Ceil(load / s.spec.airL15)
	s.unload(min(loads*s.spec.airL15, s.roomL15(s.ambient(s.today))), s.ambient(s.today), "")
}

// storedL15 is the usable fuel in the storage tanks in service.
func (s *site) storedL15() float64 {
	sum := 0.0
	for _, t := range s.storage {
		if t.row.Available(s.today) {
			sum += t.usableL15()
		}
	}
	return sum
}

const (
	rescueBelowDays = 6
	rescueForDays   = 10
)
