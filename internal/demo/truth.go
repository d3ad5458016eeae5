package demo

import (
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// truth gathers what the simulation knows.
func (s *site) truth() Truth {
	t := Truth{
		FirstDay:    FirstDay,
		Burn:        s.burned,
		Draws:       s.drawn,
		StockAtAsOf: units.LitresAt15(s.usableL15()),
		Full:        units.LitresAt15(s.fullL15()),
		Opening:     units.LitresAt15(s.openingL15),
		Received:    units.LitresAt15(s.receivedL15),
		Closing:     units.LitresAt15(s.fuelL15()),
		Arrivals:    s.arrivals,
		Faults:      s.faults,
	}
	t.ReserveDate, t.DryDate = t.dates(&s.spec.plant)
	return t
}

// dates follows the stock from the end of AsOf, with the open orders and nothing else arriving, as far as
// full tanks take them. The unusable bottom is taken as it is at AsOf: its own shrinking and swelling is
// left out.
func (t *Truth) dates(p *inventory.Plant) (reserve, dry *calendar.Day) {
	stock := t.StockAtAsOf
	for day := AsOf; day <= LastDay; day++ {
		if day > AsOf {
			stock += min(t.arriving(day), max(0, t.Full-stock)) - t.outflow(day)
		}
		if held, known := t.reserveAfter(p, day); reserve == nil && known && stock < held {
			reserve = new(day)
		}
		if stock < 0 {
			return reserve, new(day)
		}
	}
	return reserve, nil
}

// reserveAfter is the reserve to hold at the end of a day; it is not known where it reaches beyond
// LastDay.
func (t *Truth) reserveAfter(p *inventory.Plant, day calendar.Day) (held units.LitresAt15, known bool) {
	if p.ReserveLitres != nil {
		return *p.ReserveLitres, true
	}
	days := inventory.DefaultReserveDays
	if p.ReserveDays != nil {
		days = *p.ReserveDays
	}
	last := day + calendar.Day(days)
	if last > LastDay {
		return 0, false
	}
	for d := day + 1; d <= last; d++ {
		held += t.outflow(d)
	}
	return held, true
}

func (t *Truth) outflow(day calendar.Day) units.LitresAt15 {
	i := day - t.FirstDay
	return t.Burn[i] + t.Draws[i]
}

func (t *Truth) arriving(day calendar.Day) (litres units.LitresAt15) {
	for _, a := range t.Arrivals {
		if a.Day == day {
			litres += a.Volume
		}
	}
	return litres
}

// fullL15 is the usable stock with every tank that can be delivered into at its safe fill, for fuel that
// warms as far as the plant says. Nobody delivers into a day tank.
func (s *site) fullL15() float64 {
	warm := vcf(s.corrector, float64(s.spec.plant.WarmestFuel()))
	sum := 0.0
	for _, t := range s.all() {
		switch {
		case !t.row.Available(AsOf):
		case t.row.Role == inventory.DayTank:
			sum += t.usableL15()
		default:
			sum += max(0, (t.safeFillL-t.waterL())*warm-max(0, t.heelL-t.waterL())*t.vcf())
		}
	}
	return sum
}
