package inventory

import (
	"math"
	"slices"

	"overwinter/internal/notice"
)

// yield is what a plant made of its fuel between two rounds.
type yield struct {
	from, to *Round
	kWh      float64
	litres   float64
	days     float64
}

func (y yield) perLitre() float64 { return y.kWh / y.litres }

// plausible tells whether a diesel plant can make so much of a litre.
func plausible(perLitre float64) bool {
	return perLitre >= leastEnergyPerLitre && perLitre <= mostEnergyPerLitre
}

// doubtYields holds the energy register of the rounds against the meters. Where the two do not go together, the one that
// its own usual rate contradicts more is the odd one; where that does not tell, the energy is left out. A plant for which they
// never go together has another unit, another factor or another source of energy, and is told so once.
func (b *Book) doubtYields() {
	all := b.yields()
	if len(all) == 0 {
		return
	}
	var ratios, fuel, energy []float64
	for _, y := range all {
		ratios, fuel, energy = append(ratios, y.perLitre()), append(fuel, y.litres/y.days), append(energy, y.kWh/y.days)
	}
	if usual := median(ratios); len(all) >= fewestRates && !plausible(usual) {
		b.doubts.Add(notice.New(notice.Caution, "energy-per-litre", "plant "+b.Plant.ID,
			"the plant makes %.2f kWh a litre all the time, expected %.2f to %.2f: look at the units and factors of both meters, and at other sources of energy",
			usual, leastEnergyPerLitre, mostEnergyPerLitre))
		return
	}
	usualFuel, usualEnergy := median(fuel), median(energy)
	for i := 0; i < len(all); i++ {
		if y := all[i]; !plausible(y.perLitre()) {
			slip := i+1 < len(all) && plausible((y.kWh+all[i+1].kWh)/(y.litres+all[i+1].litres))
			b.doubtYield(y, odds(y.litres/y.days, usualFuel), odds(y.kWh/y.days, usualEnergy), slip)
			if slip { // the next interval is only the other side of it
				i++
			}
		}
	}
}

// odds is how far a figure is off its usual one, as a logarithm; all the way where it is nothing.
func odds(figure, usual float64) float64 {
	if figure <= 0 || usual <= 0 {
		return math.Inf(1)
	}
	return math.Abs(math.Log(figure / usual))
}

// yields gathers the intervals between rounds at which both were read, those together in which the day tanks' swing would count.
func (b *Book) yields() (all []yield) {
	least := 2 * b.capacityOf(b.tanksOf(DayTank))
	var before *Round
	for _, r := range b.rows.Rounds {
		if r.EnergyRegister == nil || !r.At.Before(b.close()) || b.energyLeftOut(r) {
			continue
		}
		if before == nil {
			before = r
			continue
		}
		litres, ok := b.ranBetween(before.At, r.At)
		kWh := *r.EnergyRegister - *before.EnergyRegister
		switch {
		case !ok || kWh < 0:
			before = r
		case litres > least && litres > 0 || kWh > mostEnergyPerLitre*math.Max(least, 1):
			all = append(all, yield{before, r, kWh, math.Max(litres, 1e-9), daysBetween(before.At, r.At)})
			before = r
		}
	}
	return all
}

func (b *Book) energyLeftOut(r *Round) bool {
	return slices.ContainsFunc(b.doubtful, func(d Doubt) bool { return d.row == Record(r) })
}

// doubtYield names the odd one of two figures: of a slip the reading itself, of a lasting change what ran before it.
func (b *Book) doubtYield(y yield, fuelOff, energyOff float64, slip bool) {
	high := mostEnergyPerLitre
	d := Doubt{At: y.to.At, Cause: EnergyPerLitre, Found: y.perLitre(), Low: leastEnergyPerLitre, High: &high, Unit: "kWh/L"}
	said := "from " + b.day(y.from.At) + " to " + b.day(y.to.At) + " the plant made " + figure(math.Round(100*d.Found)/100) + " kWh a litre, expected " +
		figure(math.Round(100*d.Low)/100) + " to " + figure(math.Round(100*high)/100) + ": "
	if fuelOff > energyOff+clearlyOdder {
		for _, m := range b.meters {
			if r := b.readingNear(m, y.to); r != nil {
				d.Scope, d.Subject = RunBefore, "meter "+m.ID
				if slip {
					d.Scope = WholeRow
				}
				d.Message = said + "the fuel is the odd one beside what is usual" + todo(d.Scope, "what ran up to it")
				b.doubt(r, d)
			}
		}
		return
	}
	which := "which of the two is wrong their usual rates do not tell"
	if energyOff > fuelOff+clearlyOdder {
		which = "the energy is the odd one beside what is usual"
	}
	d.Scope, d.Subject, d.Message = EnergyFigure, "plant "+b.Plant.ID+", rounds", said+which+todo(EnergyFigure, "")
	b.doubt(y.to, d)
}

// readingNear finds a meter's reading of a round, nil where there is none.
func (b *Book) readingNear(m *Meter, r *Round) *MeterReading {
	for _, x := range b.readings[m.ID] {
		if gap(x.At, r.At) <= sameRound && !b.leftOut[x] {
			return x
		}
	}
	return nil
}
