package demo

import (
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// How rounds go missing. The share is that of days without a reading in a plant's log; the rest common practice,
// no source.
const (
	missingShare  = 0.05
	gapsPerYear   = 2 // of days
	longestGap    = 6
	weeksGap      = 16 // days of the one long gap
	keepBeforeEnd = 21 // days before AsOf without scripted gaps
	surelyAtEnd   = 2  // days before AsOf with every round made
)

// absences draws the days without a round.
func (h habits) absences(random *rand.Rand) []bool {
	n := int(AsOf-FirstDay) + 1
	absent := make([]bool, n)
	for i := 1; i < n-1-surelyAtEnd; i++ {
		absent[i] = random.Float64() < missingShare
	}
	gap := func(length int) {
		from := 10 + random.IntN(n-keepBeforeEnd-length-10)
		for i := range length {
			absent[from+i] = true
		}
	}
	for range 3 * gapsPerYear {
		gap(2 + random.IntN(longestGap-1))
	}
	if !h.noGapsInside {
		gap(weeksGap + random.IntN(8))
	}
	for i := range absent {
		if h.silentAfter != 0 && FirstDay+calendar.Day(i) > h.silentAfter {
			absent[i] = true
		}
	}
	return absent
}

// round takes the day's readings.
func (s *site) round() {
	h := s.spec.habits
	_, _, d := s.today.Civil()
	if h.silentAfter != 0 && s.today == h.silentAfter+1 {
		s.fault(Silence, "", "no reports reach the office any more")
	}
	if h.monthly {
		if d == 1 {
			s.dipAll()
			s.reportMonth()
		}
		return
	}
	if s.absent[s.today-FirstDay] {
		return
	}
	s.readMeter()
	s.gauge(s.day)
	if due := h.dips == weekly && s.today%7 == 4 || h.dips == firstOfMonth && d == 1; due || s.today == FirstDay {
		s.dipStores()
	}
}

func (s *site) dipAll() {
	s.dipStores()
	s.gauge(s.day)
}

func (s *site) dipStores() {
	for _, t := range s.storage {
		s.gauge(t)
	}
	for _, t := range s.other {
		s.gauge(t)
	}
	if s.middle != nil {
		s.gauge(s.middle)
	}
}

// readMeter writes the register down, with a slip where one is due.
func (s *site) readMeter() {
	if s.meter == nil {
		return
	}
	r := &inventory.MeterReading{
		Entry: inventory.Entry{Key: s.key(s.meter.row.ID, s.stamp())},
		Plant: s.spec.plant.ID, Meter: s.meter.row.ID, At: s.now,
		Register: s.meter.register(), Temperature: s.thermometer(s.lineC()),
	}
	s.rows.Add(r)
	if s.due(digitSlip) {
		r.Register = swapDigits(r.Register)
		s.fault(DigitSlip, r.Key, "two digits of the register changed places")
	}
	if s.due(correctedSlip) {
		right := *r
		right.Entry = inventory.Entry{Key: r.Key + "/correction", Replaces: r.Key, Who: "coordinator", Why: "two digits had changed places"}
		s.rows.Add(&right)
		r.Register = swapDigits(r.Register)
		s.fault(CorrectedSlip, r.Key, "two digits of the register changed places; a later row replaces it")
	}
}

// lineC is the temperature of the fuel in the line with the meter: that of the tank it comes from.
func (s *site) lineC() float64 {
	for _, t := range s.source() {
		if t.row.Available(s.today) && t.usableL15() > 0 {
			return t.temperatureC
		}
	}
	return s.source()[0].temperatureC
}

// swapDigits exchanges the first two neighbouring digits, from the hundreds upwards, that differ.
func swapDigits(register float64) float64 {
	for unit := 100.0; unit <= register; unit *= 10 {
		low := math.Mod(math.Floor(register/unit), 10)
		high := math.Mod(math.Floor(register/unit/10), 10)
		if low != high {
			return register + (high-low)*unit + (low-high)*unit*10
		}
	}
	return register
}

// due takes a scripted slip off the list if one waits.
func (s *site) due(kind eventKind) bool {
	for i, e := range s.pending {
		if e.kind == kind {
			s.pending = append(s.pending[:i], s.pending[i+1:]...)
			return true
		}
	}
	return false
}

// gauge takes one gauging of one tank.
func (s *site) gauge(t *tank) {
	g := &inventory.Gauging{
		Entry: inventory.Entry{Key: s.key(t.row.ID, s.stamp())},
		Plant: s.spec.plant.ID, Tank: t.row.ID, At: s.now,
		Temperature: s.thermometer(t.temperatureC),
	}
	s.rows.Add(g)
	if t.row.Shape == inventory.ShapeVolume {
		read := t.standsL() + volumeGaugeErrShare*t.capacityL()*s.reading.NormFloat64()
		g.Volume = new(min(max(s.wholeVolume(read), 0), s.wholeVolume(t.capacityL())))
		return
	}
	sd := float64(dipErrSD)
	if t == s.day && s.spec.habits.gaugeSDMM > 0 {
		sd, g.Precision = s.spec.habits.gaugeSDMM, units.Millimetres(s.spec.habits.gaugeSDMM)
	}
	depth := t.depthMM(t.standsL()) + sd*s.reading.NormFloat64()
	g.Depth = new(units.Millimetres(min(max(s.stick(depth), 0), float64(t.shape.Depth()))))
	if t.row.Role == inventory.Storage {
		water := max(0, s.stick(t.waterMM+waterErrSD*s.reading.NormFloat64()))
		g.Water = new(min(units.Millimetres(water), *g.Depth))
	}
	if t == s.storage[0] && s.due(misreadDip) {
		s.misread(g, t)
	}
}

// volumeGaugeErrShare is the standard deviation of a gauge in volume, as a share of the capacity.
const volumeGaugeErrShare = 0.01

// misread puts a dip one foot off, on the side where the tank has room for it.
func (s *site) misread(g *inventory.Gauging, t *tank) {
	foot := units.Millimetres(units.MillimetresPerFoot)
	if *g.Depth+foot > t.shape.Depth() {
		foot = -foot
	}
	*g.Depth += foot
	s.fault(MisreadDip, g.Key, "the stick was read one foot off")
}

// stick rounds a depth as the plant's people read it.
func (s *site) stick(depthMM float64) float64 {
	if s.spec.habits.imperial {
		const eighth = units.MillimetresPerInch / 8
		return math.Round(depthMM/eighth) * eighth
	}
	return math.Round(depthMM)
}

// thermometer reads a temperature; nil where none is taken.
func (s *site) thermometer(temperatureC float64) *units.Celsius {
	if s.spec.habits.noThermo {
		return nil
	}
	read := temperatureC + thermoErrSD*s.reading.NormFloat64()
	if s.spec.habits.imperial {
		return new(units.Fahrenheit(math.Round(read*1.8 + 32)))
	}
	return new(units.Celsius(math.Round(read)))
}

// reportMonth writes down what the plant says it burned in the month before.
func (s *site) reportMonth() {
	last := s.today - 1
	if last < FirstDay {
		return
	}
	first := calendar.MonthOf(last).First()
	litres15 := 0.0
	for day := first; day <= last; day++ {
		litres15 += float64(s.burned[day-FirstDay])
	}
	observed := around(s.reading, litres15/vcf(s.corrector, s.lineC()), totalErrorShare)
	total := &inventory.PeriodTotal{
		Entry:   inventory.Entry{Key: s.key("total", calendar.MonthOf(last).String())},
		Measure: s.measure(observed, s.lineC()),
		Plant:   s.spec.plant.ID, FirstDay: first, LastDay: last,
	}
	if s.due(countCorrection) {
		total.Volume = -s.wholeVolume(countCorrectionShare * observed)
		s.fault(CountCorrection, total.Key, "the year's physical count was booked into the month")
	}
	s.rows.Add(total)
}

// countCorrectionShare is how far below zero the corrected month comes, as a share of its true total.
const countCorrectionShare = 0.07
