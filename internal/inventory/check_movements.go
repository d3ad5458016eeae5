package inventory

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// period checks a stretch of days, both ends included, that must be over.
func (f *findings) period(first, last calendar.Day, now time.Time, zone *time.Location) {
	f.day("first_day", first)
	f.pastDay("last_day", last, now, zone)
	if first > last {
		f.add("first_day", "%s is after the last day, %s: expected the earlier day first", first, last)
	}
}

// Check says what is wrong with the delivery's row; see [Plant.Check].
func (d *Delivery) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&d.Entry)
	if d.Void {
		f.id("plant", d.Plant)
		return f
	}
	if plant, ok := f.plant(dir, d.Plant); ok {
		f.past("at", d.At, now, plant.zoneOrUTC())
		if d.Tank != "" {
			f.tank(dir, "tank", d.Plant, d.Tank)
		}
	}
	f.volume("volume", float64(d.Volume))
	f.measure(d.Measure)
	f.line("order", d.Order, longestID)
	f.line("document", d.Document, longestID)
	if d.Product != "" {
		oneOf(&f, "product", d.Product, Products()...)
	}
	f.figureOf("document", d.ByDocument)
	f.figureOf("meter", d.ByMeter)
	if d.Refused != nil {
		f.volume("refused", float64(*d.Refused))
	}
	f.cost(d)
	return f
}

// mostPrice and mostFreight are beyond any fuel and any voyage, in major units of any currency.
const mostPrice, mostFreight = 1e6, 1e12

// cost checks what a delivery cost.
func (f *findings) cost(d *Delivery) {
	if d.PricePerLitre != nil {
		f.within("price", *d.PricePerLitre, 0, mostPrice, "a litre")
	}
	if d.Freight != nil {
		f.within("freight", *d.Freight, 0, mostFreight, "")
	}
	switch priced := d.PricePerLitre != nil || d.Freight != nil; {
	case priced && !isCurrency(d.Currency):
		f.add("currency", "%s is no currency: a price needs three capital letters, as in ISO 4217", quoted(d.Currency))
	case !priced && d.Currency != "":
		f.add("currency", "there is neither a price nor freight: leave the currency blank")
	}
}

// Check says what is wrong with the transfer's row; see [Plant.Check].
func (t *Transfer) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&t.Entry)
	if t.Void {
		f.id("plant", t.Plant)
		return f
	}
	if plant, ok := f.plant(dir, t.Plant); ok {
		f.past("at", t.At, now, plant.zoneOrUTC())
		f.tank(dir, "from_tank", t.Plant, t.From)
		f.tank(dir, "to_tank", t.Plant, t.To)
	}
	if t.From != "" && t.From == t.To {
		f.add("to_tank", "the fuel leaves tank %s and goes back into it: expected two tanks", t.From)
	}
	if !t.Open || t.Volume != 0 {
		f.volume("volume", float64(t.Volume))
	}
	f.measure(t.Measure)
	if t.PlannedStop != nil {
		f.year("planned_stop", t.PlannedStop.Year())
		if !t.Open {
			f.add("planned_stop", "the transfer is over: leave it blank, or say that it is open")
		} else if t.PlannedStop.Before(t.At) {
			f.add("planned_stop", "it lies before the beginning: expected a later moment")
		}
	}
	return f
}

// Check says what is wrong with the draw's row; see [Plant.Check].
func (d *Draw) Check(dir *Directory, now time.Time) []fault.Field {
	var f findings
	f.entry(&d.Entry)
	if d.Void {
		f.id("plant", d.Plant)
		return f
	}
	if plant, ok := f.plant(dir, d.Plant); ok {
		f.period(d.FirstDay, d.LastDay, now, plant.zoneOrUTC())
	}
	oneOf(&f, "purpose", d.Purpose, Heat, Vehicles, Sale, Loan, Repayment)
	f.line("with", d.With, longestName)
	f.volume("volume", float64(d.Volume))
	f.measure(d.Measure)
	return f
}
