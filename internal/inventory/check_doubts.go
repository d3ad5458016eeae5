package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// Codes of the notices about doubtful values.
const (
	CodeTemperatureOdd   = "temperature-odd"    // outside −50 to 50 °C
	CodeBasisUnknown     = "basis-unknown"      // a volume whose temperature nobody stated
	CodeTotalNotPositive = "total-not-positive" // a period total that is never fitted
	CodeDeliveryTooLarge = "delivery-too-large" // more than the tanks can hold
	CodeDeliverySmall    = "delivery-small"     // next to nothing of what the tanks can hold
	CodeMeterBackward    = "meter-backward"     // a register that fell without rollover or swap
)

// Fuel outside these is possible but more often a slipped sign or the wrong unit. Common practice, no
// source.
const (
	coldestUsual units.Celsius = -50
	hottestUsual units.Celsius = 50
)

func oddTemperature(subject string, t *units.Celsius) []notice.Notice {
	if t == nil || (*t >= coldestUsual && *t <= hottestUsual) {
		return nil
	}
	return []notice.Notice{notice.New(notice.Caution, CodeTemperatureOdd, subject,
		"%s is outside the usual %s to %s: check the sign and the unit",
		amount(float64(*t), "°C"), figure(float64(coldestUsual)), amount(float64(hottestUsual), "°C"))}
}

// doubts of a stated volume: an odd temperature, or none.
func (m Measure) doubts(dir *Directory, plant, subject string) []notice.Notice {
	found := oddTemperature(subject, m.Temperature)
	if m.Temperature == nil && m.Basis != Basis15 {
		found = append(found, basisUnknown(dir, plant, subject))
	}
	return found
}

func basisUnknown(dir *Directory, plant, subject string) notice.Notice {
	assumed := DefaultAssumedTemperature
	if p := dir.Plant(plant); p != nil {
		assumed = p.FuelTemperature()
	}
	return notice.New(notice.Caution, CodeBasisUnknown, subject,
		"a volume without its temperature: basis unknown, taken as at %s", amount(float64(assumed), "°C"))
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (r *MeterReading) Doubts(*Directory) []notice.Notice {
	return oddTemperature("plant "+r.Plant+", meter "+r.Meter, r.Temperature)
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (g *Gauging) Doubts(dir *Directory) []notice.Notice {
	subject := "plant " + g.Plant + ", tank " + g.Tank
	if g.Temperature == nil {
		return []notice.Notice{basisUnknown(dir, g.Plant, subject)}
	}
	return oddTemperature(subject, g.Temperature)
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (t *PeriodTotal) Doubts(dir *Directory) []notice.Notice {
	subject := "plant " + t.Plant + ", period totals"
	found := t.doubts(dir, t.Plant, subject)
	if t.Volume <= 0 {
		found = append(found, notice.New(notice.Caution, CodeTotalNotPositive, subject,
			"%s from %s to %s: kept, and never fitted", amount(float64(t.Volume), "L"), t.FirstDay, t.LastDay))
	}
	return found
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (d *Delivery) Doubts(dir *Directory) []notice.Notice {
	subject := "plant " + d.Plant + ", deliveries"
	found := d.doubts(dir, d.Plant, subject)
	switch room, what := d.holding(dir); {
	case d.Volume > room:
		found = append(found, notice.New(notice.Caution, CodeDeliveryTooLarge, subject,
			"%s is more than the %s that %s can hold: check the volume and its unit",
			amount(float64(d.Volume), "L"), amount(float64(room), "L"), what))
	case d.Volume < smallDelivery*room:
		found = append(found, notice.New(notice.Caution, CodeDeliverySmall, subject,
			"%s is next to nothing of the %s that %s can hold: check the volume and its unit",
			amount(float64(d.Volume), "L"), amount(float64(room), "L"), what))
	}
	return found
}

// smallDelivery is the share of what the tanks can hold below which a delivery is more often one in
// kilolitres that was entered as litres. Common practice, no source.
const smallDelivery = 0.001

// holding gives the capacity of the tank that took the delivery, or of all the plant's tanks.
func (d *Delivery) holding(dir *Directory) (units.Litres, string) {
	into, what := dir.TanksOf(d.Plant), "the plant's tanks"
	if t := dir.Tank(d.Plant, d.Tank); t != nil {
		into, what = []*Tank{t}, "tank "+d.Tank
	}
	var sum units.Litres
	for _, t := range into {
		if m, err := t.Measured(); err == nil {
			sum += tanks.Capacity(m.Shape)
		}
	}
	return sum, what
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (t *Transfer) Doubts(dir *Directory) []notice.Notice {
	return t.doubts(dir, t.Plant, "plant "+t.Plant+", transfers")
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (d *Draw) Doubts(dir *Directory) []notice.Notice {
	return d.doubts(dir, d.Plant, "plant "+d.Plant+", draws")
}

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (o *Order) Doubts(dir *Directory) []notice.Notice {
	return o.doubts(dir, o.Plant, "plant "+o.Plant+", orders")
}

// BackwardMeters gives a notice for each reading that is below the one before it on the same meter,
// with neither a swap between the two nor a rollover: on a register of limited digits a fall of more
// than half its range is one. The rows may stand in any order; none of them is replaced or withdrawn.
func BackwardMeters(readings []*MeterReading, swaps []*MeterSwap, dir *Directory) []notice.Notice {
	type line struct{ plant, meter string }
	byMeter := map[line][]*MeterReading{}
	for _, r := range readings {
		at := line{r.Plant, r.Meter}
		byMeter[at] = append(byMeter[at], r)
	}
	swapped := map[line][]time.Time{}
	for _, s := range swaps {
		at := line{s.Plant, s.Meter}
		swapped[at] = append(swapped[at], s.At)
	}
	inOrder := func(a, b line) int {
		return cmp.Or(cmp.Compare(a.plant, b.plant), cmp.Compare(a.meter, b.meter))
	}
	lines := make([]line, 0, len(byMeter))
	for at := range byMeter {
		lines = append(lines, at)
	}
	slices.SortFunc(lines, inOrder)
	var found []notice.Notice
	for _, at := range lines {
		if m := dir.Meter(at.plant, at.meter); m != nil {
			found = append(found, m.backward(byMeter[at], swapped[at], dir)...)
		}
	}
	return found
}

// backward looks through one meter's readings.
func (m *Meter) backward(readings []*MeterReading, swaps []time.Time, dir *Directory) []notice.Notice {
	byTime := slices.Clone(readings)
	slices.SortStableFunc(byTime, func(a, b *MeterReading) int { return a.At.Compare(b.At) })
	zone := time.UTC
	if p := dir.Plant(m.Plant); p != nil {
		zone = p.zoneOrUTC()
	}
	var found []notice.Notice
	for i := 1; i < len(byTime); i++ {
		before, after := byTime[i-1], byTime[i]
		swap := func(at time.Time) bool { return !at.Before(before.At) && !at.After(after.At) }
		fall := before.Register - after.Register
		if fall <= 0 || m.rolledOver(fall) || slices.ContainsFunc(swaps, swap) {
			continue
		}
		found = append(found, notice.New(notice.Caution, CodeMeterBackward, "plant "+m.Plant+", meter "+m.ID,
			"the register fell from %s to %s between %s and %s, with no swap between: check both readings, or enter the swap",
			figure(before.Register), figure(after.Register),
			before.At.In(zone).Format(minutes), after.At.In(zone).Format(minutes)))
	}
	return found
}

// rolledOver tells whether a fall of the register is the passage through zero.
func (m *Meter) rolledOver(fall float64) bool {
	return m.Digits > 0 && fall > math.Pow10(m.Digits)/2
}
