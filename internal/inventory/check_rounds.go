package inventory

import (
	"slices"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// most is beyond any counter of hours or of kWh that a plant has. Common practice, no source.
const mostHours, mostKWh = 1e7, 1e12

// Check says what is wrong with the round's row; see [Plant.Check].
func (r *Round) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&r.Entry)
	if r.Void {
		f.id("plant", r.Plant)
		return f
	}
	if plant, ok := f.plant(dir, r.Plant); ok {
		f.past("at", r.At, now, plant.zoneOrUTC())
	}
	if r.Bowl != "" {
		oneOf(&f, "filter_bowl", r.Bowl, BowlClear, BowlTrace, BowlWater, BowlResidue, BowlIce)
	}
	for i, a := range r.Alarms {
		if oneOf(&f, "alarms", a, AlarmFillTime, AlarmLow, AlarmHigh, AlarmPumpDown, AlarmLeak, AlarmOther) && slices.Contains(r.Alarms[:i], a) {
			f.add("alarms", "%s stands twice: expected each alarm once", a)
		}
	}
	if r.RunningHours != nil {
		f.within("running_hours", *r.RunningHours, 0, mostHours, "hours")
	}
	if r.EnergyRegister != nil {
		f.within("energy_register_kwh", *r.EnergyRegister, 0, mostKWh, "kWh")
	}
	f.note("note", r.Note)
	return f
}

// Check says what is wrong with the proving's row; see [Plant.Check].
func (p *Proving) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&p.Entry)
	if p.Void {
		f.id("plant", p.Plant)
		return f
	}
	if plant, ok := f.plant(dir, p.Plant); ok {
		f.past("at", p.At, now, plant.zoneOrUTC())
		f.meter(dir, p.Plant, p.Meter)
	}
	f.within("factor", p.Factor, leastFactor, mostFactor, "")
	return f
}

// Check says what is wrong with the correction's row; see [Plant.Check].
func (c *CountCorrection) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&c.Entry)
	if c.Void {
		f.id("plant", c.Plant)
		return f
	}
	if plant, ok := f.plant(dir, c.Plant); ok {
		f.pastDay("day", c.Day, now, plant.zoneOrUTC())
	}
	oneOf(&f, "product", c.Product, Products()...)
	if f.within("volume", float64(c.Volume), -largestVolume, largestVolume, "L") && c.Volume == 0 {
		f.add("volume", "a correction of nothing corrects nothing: expected more or less than 0")
	}
	f.measure(c.Measure)
	return f
}

// Check says what is wrong with the change's row; see [Plant.Check].
func (c *ProductChange) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&c.Entry)
	if c.Void {
		f.id("plant", c.Plant)
		return f
	}
	if plant, ok := f.plant(dir, c.Plant); ok {
		f.past("at", c.At, now, plant.zoneOrUTC())
		f.tank(dir, "tank", c.Plant, c.Tank)
	}
	oneOf(&f, "product", c.Product, Products()...)
	return f
}

// Check says what is wrong with the confirmation's row; see [Plant.Check].
func (c *Confirmation) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&c.Entry)
	if c.Void {
		f.id("plant", c.Plant)
		return f
	}
	f.plant(dir, c.Plant)
	oneOf(&f, "of", c.Of, Doubtable()...)
	f.line("row", c.Row, longestKey)
	if c.Row == "" {
		f.add("row", "blank: expected the key of the row that is right")
	}
	return f
}

// Doubtable lists the kinds of rows that can look wrong in themselves or beside others, and be confirmed.
func Doubtable() []Kind {
	return []Kind{KindReading, KindGauging, KindTotal, KindDelivery, KindTransfer, KindDraw, KindRound}
}

// figure checks what a document or a meter said of a delivery.
func (f *findings) figureOf(where string, d DeliveryFigure) {
	if d.Volume == nil {
		if d.Temperature != nil || d.Basis != BasisUnknown {
			f.add(where+"_volume", "a temperature or a basis alone says nothing: give the volume too, or leave both blank")
		}
		return
	}
	f.volume(where+"_volume", float64(*d.Volume))
	f.temperature(where+"_temperature", d.Temperature)
	if d.Basis != BasisUnknown {
		oneOf(f, where+"_basis", d.Basis, BasisObserved, Basis15)
	}
}

// Doubts gives notices about values that are kept but look wrong: there are none in what confirms another row.
func (c *Confirmation) Doubts(*Directory) []notice.Notice { return nil }
