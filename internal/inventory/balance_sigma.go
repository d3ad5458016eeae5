package inventory

import (
	"maps"
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// sources reckons what the variance's uncertainty is made of, all but the density. What day tanks hold cancels out of
// a variance, since it is in the stock and in the consumption alike.
func (l *ledger) sources(in stays, r run, f flows, bal *Balance) Sources {
	var dips, warmth float64
	table := map[string]float64{}
	for _, s := range in {
		if s.tank.Role == DayTank {
			continue
		}
		table[s.tank.ID] += s.to.fuel() - s.from.fuel()
		if s.from.Gauging == s.to.Gauging {
			continue
		}
		for _, g := range []measuredGauging{s.from, s.to} {
			dip, heat := l.book.dipSigma(g)
			dips, warmth = dips+square(dip), warmth+square(heat)
		}
	}
	dips += square(l.ungauged(in, Intermediate))
	tables := 0.0
	for _, tank := range slices.Sorted(maps.Keys(table)) {
		tables += square(tanks.TablePrecision * table[tank])
	}
	warmth += f.warmth + square(r.blind*l.book.factorSigma(nil))
	drawn := square(MovementPrecision*float64(bal.Drawn)) + square(MovementPrecision*float64(bal.Repaid)) +
		l.book.drawHours(bal.From) + l.book.drawHours(bal.To)
	return Sources{
		Meter:       units.LitresAt15(math.Sqrt(square(MeterPrecision)*r.squares + r.guess)),
		Dips:        units.LitresAt15(math.Sqrt(dips)),
		Table:       units.LitresAt15(math.Sqrt(tables)),
		Temperature: units.LitresAt15(math.Sqrt(warmth)),
		Movements:   units.LitresAt15(math.Sqrt(f.stated + drawn)),
	}
}

// drawHours is the variance that comes of not knowing at what hour of a count's day fuel was drawn or given back: of a day's
// litres v, s of which is over, v·s are counted, and 0 or v may have left: v²·s·(1 − s).
func (b *Book) drawHours(at time.Time) (variance float64) {
	var ignored notice.List
	day := calendar.DayOf(at, b.Zone)
	over := calendar.Fraction(at, b.Zone) - float64(day)
	for _, d := range b.drawsOn(day, day) {
		variance += square(b.at15(d.Measure, "", &ignored)/float64(d.LastDay-d.FirstDay+1)) * over * (1 - over)
	}
	return variance
}

// dipSigma divides the uncertainty of a gauging's fuel: what comes from reading its levels, and from its temperature.
// The rest, the table's part above all, is common to all gaugings of the tank.
func (b *Book) dipSigma(g measuredGauging) (dip, heat float64) {
	if known, ok := b.dipSigmas[g.Gauging]; ok {
		return known[0], known[1]
	}
	defer func() { b.dipSigmas[g.Gauging] = [2]float64{dip, heat} }() // a gauging is in many balances
	e, err := b.measured[g.Tank].Fuel(g.Reading(), b.fuel, b.Plant.FuelTemperature())
	if err != nil {
		return 0, 0 // it was measured before
	}
	squares := 0.0
	for _, p := range e.Parts {
		switch p.Source {
		case tanks.LiquidReading, tanks.WaterReading:
			squares += square(float64(p.Contribution))
		case tanks.FuelTemperature:
			heat = math.Abs(float64(p.Contribution))
		}
	}
	return math.Sqrt(squares), heat
}

// changeSigma is the uncertainty of what several tanks rose or fell between two counts.
func (b *Book) changeSigma(from, to *content) float64 {
	squares := 0.0
	for _, tank := range slices.Sorted(maps.Keys(to.dips)) {
		start, end := from.dips[tank], to.dips[tank]
		squares += square(tanks.TablePrecision * (end.fuel() - start.fuel()))
		for _, g := range []measuredGauging{start, end} {
			dip, heat := b.dipSigma(g)
			squares += square(dip) + square(heat)
		}
	}
	return math.Sqrt(squares)
}
