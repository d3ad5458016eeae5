package inventory

import (
	"maps"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// flows is what came and went between two counts, past the meters, in litres at 15 °C.
type flows struct {
	received float64
	changed  float64 // moved in from tanks of another product, less what was moved out to them
	moved    float64 // between tanks of the balance: into one within its stay, less out of one within its stay
	intoDay  float64 // into the day tanks past the meters, less what was pumped back
	// Squares of the standard uncertainties: as stated, and through temperatures.
	stated, warmth float64
}

// flows sums deliveries and transfers. Each counts in a tank when it lies between the gaugings of that tank.
func (l *ledger) flows(in stays, from, to time.Time) flows {
	var f flows
	l.deliveries(&f, in, from, to)
	for _, t := range l.book.rows.Transfers {
		l.transfer(&f, in, t, from, to)
	}
	return f
}

func (l *ledger) deliveries(f *flows, in stays, from, to time.Time) {
	b := l.book
	byDocument := map[string]float64{}
	for _, d := range b.rows.Deliveries {
		tank := b.held.tank(d.Tank)
		inside := d.At.After(from) && !d.At.After(to) && b.brings(d)
		if tank != nil {
			inside = l.seen(in, d.Tank, d.At, from, to)
		}
		if !inside {
			continue
		}
		v := b.at15(d.Measure, "deliveries", &l.notes)
		f.received += v
		if tank != nil && tank.Role == DayTank {
			f.intoDay += v
		}
		name := d.Document
		if name == "" {
			name = "\x00" + d.Key
		}
		byDocument[name] += v
		f.warmth += square(b.warmth(d.Measure))
		b.nameOther(d, &l.notes)
	}
	for _, name := range slices.Sorted(maps.Keys(byDocument)) { // in order, so that the last digit is the same each time
		f.stated += square(MovementPrecision * byDocument[name])
	}
}

// nameOther names a delivery of another product than that of the tank it went into.
func (b *Book) nameOther(d *Delivery, notes *notice.List) {
	if d.Product != "" && d.Product != b.Product {
		notes.Add(notice.New(notice.Caution, "product-differs", b.Plant.ID+" tank "+d.Tank,
			"%s was put into %s on %s: it counts as what the tank holds; enter a product change where the tank now holds another",
			d.Product, b.Product, b.day(d.At)))
	}
}

// transfer adds one transfer. What moves between two tanks of the balance adds to neither; from or to a tank of another
// product it changes over; into or out of a day tank it went past the meter.
func (l *ledger) transfer(f *flows, in stays, t *Transfer, from, to time.Time) {
	b := l.book
	left, reached := l.seen(in, t.From, t.At, from, to), l.seen(in, t.To, t.At, from, to)
	if !left && !reached {
		return
	}
	v := b.at15(t.Measure, "transfers", &l.notes)
	net := 0.0
	if reached {
		net += v
	}
	if left {
		net -= v
	}
	fromDay, toDay := b.isDayTank(t.From), b.isDayTank(t.To)
	switch {
	case toDay && !fromDay && reached:
		f.intoDay += v
	case fromDay && !toDay && left:
		f.intoDay -= v
	}
	if b.otherProduct(t) {
		f.changed += net
	} else {
		f.moved += net
	}
	if net != 0 || fromDay != toDay {
		f.stated += square(MovementPrecision * v)
		f.warmth += square(b.warmth(t.Measure))
	}
}

// seen tells whether a movement in a tank lies in the balance: between the gaugings of the tank, and for an intermediate or
// day tank that was not gauged, between the counts, while it holds the product.
func (l *ledger) seen(in stays, tank string, at, from, to time.Time) bool {
	if t := l.book.held.tank(tank); t != nil && t.Role != Storage && !in.has(tank) {
		return l.book.holds(t, at) && at.After(from) && !at.After(to)
	}
	return in.covering(tank, at) != nil
}

// otherProduct tells whether a transfer runs between tanks of two products.
func (b *Book) otherProduct(t *Transfer) bool {
	from, to := b.held.tank(t.From), b.held.tank(t.To)
	return from != nil && to != nil && b.holds(from, t.At) != b.holds(to, t.At)
}

// MovementPrecision is the standard uncertainty of what was received or moved, as a share of it, one error for
// all rows of one document. Common practice, no source: that of a meter.
const MovementPrecision = 0.005

// warmth is the uncertainty that a volume has from its temperature, in litres at 15 °C.
func (b *Book) warmth(m Measure) float64 {
	if m.Basis == Basis15 {
		return 0
	}
	return float64(m.Volume) * b.factorSigma(m.Temperature)
}

func square(x float64) float64 { return x * x }

// nameOpen names the transfers that still run, with the stop that somebody planned.
func (l *ledger) nameOpen(after, until time.Time) {
	for _, t := range l.book.rows.Transfers {
		if t.Open && !t.At.After(until) {
			l.notes.Add(l.book.openTransfer(t))
		}
	}
}

// OpenTransfers names the transfers that still run at the close of the as-of day.
func (b *Book) OpenTransfers() notice.List {
	var notes notice.List
	for _, t := range b.rows.Transfers {
		if t.Open && t.At.Before(b.close()) {
			notes.Add(b.openTransfer(t))
		}
	}
	return notes
}

func (b *Book) openTransfer(t *Transfer) notice.Notice {
	subject := b.Plant.ID + " transfer " + t.From + " to " + t.To
	since := t.At.In(b.Zone).Format(minutes)
	switch {
	case t.PlannedStop == nil:
		return notice.New(notice.Serious, "transfer-open", subject, "runs since %s and nobody said when it is to stop: enter its end", since)
	case t.PlannedStop.Before(b.close()):
		return notice.New(notice.Serious, "transfer-open", subject, "runs since %s and was to stop at %s: enter its end",
			since, t.PlannedStop.In(b.Zone).Format(minutes))
	}
	return notice.New(notice.Info, "transfer-open", subject, "runs since %s, to stop at %s",
		since, t.PlannedStop.In(b.Zone).Format(minutes))
}

// factorSigma is the uncertainty of the volume correction factor at a temperature that was read, or was not.
func (b *Book) factorSigma(read *units.Celsius) float64 {
	if read == nil {
		return b.fuel.FactorSigma(b.Plant.FuelTemperature(), tanks.AssumedTemperaturePrecision)
	}
	return b.fuel.FactorSigma(*read, tanks.TemperaturePrecision)
}
