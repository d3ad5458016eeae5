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
		for _, g := range []*measuredGauging{&s.from, &s.to} {
			dips += square(float64(g.content.FuelReadingSigma))
			warmth += square(float64(g.content.FuelWarmthSigma))
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

// ownVariance is the part of the variance of a gauging's fuel that it shares with no other gauging of the tank: it comes from reading
// the levels and the temperature. The table's part, above all, is common to all.
func (g *measuredGauging) ownVariance() float64 {
	return square(float64(g.content.FuelReadingSigma)) + square(float64(g.content.FuelWarmthSigma))
}

// changeSigma is the uncertainty of what the tanks of two counts, which are the same, rose or fell between them.
func (b *Book) changeSigma(from, to *content) float64 {
	squares := 0.0
	for i := range to.dips {
		start, end := &from.dips[i], &to.dips[i]
		squares += square(tanks.TablePrecision*(end.fuel()-start.fuel())) + start.ownVariance() + end.ownVariance()
	}
	return math.Sqrt(squares)
}
