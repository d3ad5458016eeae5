package inventory

import (
	"math"
	"sync"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/tanks"
)

// Check says what is wrong with the reading's row; see [Plant.Check].
func (r *MeterReading) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&r.Entry)
	if r.Void {
		f.id("plant", r.Plant)
		return f
	}
	plant, ok := f.plant(dir, r.Plant)
	if !ok {
		return f
	}
	f.past("at", r.At, now, plant.zoneOrUTC())
	f.temperature("temperature", r.Temperature)
	if meter, ok := f.meter(dir, r.Plant, r.Meter); ok {
		f.register("register", r.Register, meter)
	}
	return f
}

// register checks what a meter showed against its digits.
func (f *findings) register(where string, counts float64, m *Meter) {
	if m.Digits == 0 {
		f.within(where, counts, 0, 1e12, "counts")
		return
	}
	// A tenths wheel may turn behind the last digit, so that 999 999.9 can be read off six digits.
	if limit := math.Pow10(m.Digits); !(counts >= 0 && counts < limit) {
		f.add(where, "%s cannot stand on a register of %d digits: expected 0 or more and less than %s; check the reading and the meter's digits",
			figure(counts), m.Digits, figure(limit))
	}
}

// Check says what is wrong with the swap's row; see [Plant.Check].
func (s *MeterSwap) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&s.Entry)
	if s.Void {
		f.id("plant", s.Plant)
		return f
	}
	plant, ok := f.plant(dir, s.Plant)
	if !ok {
		return f
	}
	f.past("at", s.At, now, plant.zoneOrUTC())
	meter, ok := f.meter(dir, s.Plant, s.Meter)
	if !ok {
		return f
	}
	if s.Closing != nil {
		f.register("closing", *s.Closing, meter)
	}
	if s.Opening != nil {
		f.register("opening", *s.Opening, meter)
	}
	return f
}

// Check says what is wrong with the gauging's row; see [Plant.Check].
func (g *Gauging) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&g.Entry)
	if g.Void {
		f.id("plant", g.Plant)
		return f
	}
	plant, ok := f.plant(dir, g.Plant)
	if !ok {
		return f
	}
	f.past("at", g.At, now, plant.zoneOrUTC())
	f.temperature("temperature", g.Temperature)
	f.within("precision", float64(g.Precision), 0, 1000, "mm")
	if g.Gauge != "" {
		oneOf(&f, "gauge", g.Gauge, tanks.Gauges()...)
	}
	f.oneLiquid(g)
	if tank, ok := f.tank(dir, "tank", g.Plant, g.Tank); ok && len(f) == 0 {
		f.content(g, tank)
	}
	return f
}

// oneLiquid checks that the liquid is given once: as a depth, an ullage or a volume.
func (f *findings) oneLiquid(g *Gauging) {
	given := 0
	for _, is := range []bool{g.Depth != nil, g.Ullage != nil, g.Volume != nil} {
		if is {
			given++
		}
	}
	switch {
	case given == 0:
		f.add("depth", "neither a depth nor a volume: give the one that was read")
	case given > 1 && g.Ullage != nil:
		f.add("ullage", "beside an ullage there is a depth or a volume: give the one that was read and leave the others blank")
	case given > 1:
		f.add("depth", "both a depth and a volume: give the one that was read and leave the other blank")
	}
}

// content checks what was read against the tank. A tank that cannot be built is refused by its own row.
func (f *findings) content(g *Gauging, t *Tank) {
	tank, err := t.Measured()
	if err != nil {
		return
	}
	const advice = "check the dip and the tank's shape"
	depth := float64(tank.Shape.Depth())
	switch {
	case g.Volume == nil && depth == 0:
		f.add(gaugingColumn("", g), "only the capacity of this tank is known: give a volume, or a capacity table with the tank")
		return
	case g.Ullage != nil && t.ReferenceHeight == nil:
		f.add("ullage", "the height from which it is counted is not known: state the tank's reference height, or give the depth instead")
		return
	case g.Depth != nil:
		f.inside("depth", float64(*g.Depth), depth, "mm", advice)
	case g.Volume != nil:
		f.inside("volume", float64(*g.Volume), float64(tanks.Capacity(tank.Shape)), "L", "check the gauge and the tank's capacity")
	}
	if g.Water != nil && g.Depth != nil && *g.Water > *g.Depth {
		f.add("water", "%s of water stand above the depth of %s: expected the depth of all liquid, water included",
			amount(float64(*g.Water), "mm"), amount(float64(*g.Depth), "mm"))
	}
	if len(*f) == 0 {
		f.inner(g.measurable(tank), func(part string) string { return gaugingColumn(part, g) })
	}
}

// measurable tries the measurement itself on what the row says. The temperature is left out: it has
// its own check.
func (g *Gauging) measurable(tank tanks.Tank) error {
	corrector, err := anyFuel()
	if err != nil {
		return err
	}
	reading := g.Reading()
	reading.Temperature = nil
	_, err = tank.Measure(reading, corrector, DefaultAssumedTemperature)
	return err
}

// anyFuel is a factor good enough to find what is wrong with depths and volumes.
var anyFuel = sync.OnceValues(func() (tanks.Corrector, error) { return tanks.NewCorrector(840) })

func gaugingColumn(part string, g *Gauging) string {
	switch {
	case part == "depth precision":
		return "precision"
	case part == "water", part == "volume":
		return part
	case g.Ullage != nil:
		return "ullage"
	case g.Depth == nil:
		return "volume"
	}
	return "depth"
}

// Check says what is wrong with the period total's row; see [Plant.Check]. A total of zero or less is
// no error: it lands with a notice.
func (t *PeriodTotal) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&t.Entry)
	if t.Void {
		f.id("plant", t.Plant)
		return f
	}
	if plant, ok := f.plant(dir, t.Plant); ok {
		f.period(t.FirstDay, t.LastDay, now, plant.zoneOrUTC())
	}
	f.within("volume", float64(t.Volume), -largestVolume, largestVolume, "L")
	f.measure(t.Measure)
	if t.Energy != nil {
		f.within("energy_kwh", *t.Energy, 0, mostKWh, "kWh")
	}
	return f
}
