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

// PlausiblePerLitre tells whether a diesel plant can make so many kWh of a litre.
func PlausiblePerLitre(perLitre float64) bool {
	return perLitre >= leastEnergyPerLitre && perLitre <= mostEnergyPerLitre
}

// doubtYields holds the energy register of the rounds against the meters. Of two figures that do not go together the one that its
// own usual rate contradicts more is the odd one. More energy than a litre holds may come from wind, sun or water: then the fuel
// counts all the same. Where it happens often, the plant is told once that there is another source, another unit or another factor.
func (b *Book) doubtYields() {
	all := b.yields()
	var fuel, energy, ratios []float64
	odd := 0
	for _, y := range all {
		fuel, energy = append(fuel, y.litres/y.days), append(energy, y.kWh/y.days)
		ratios = append(ratios, y.perLitre())
		if !PlausiblePerLitre(y.perLitre()) {
			odd++
		}
	}
	if odd == 0 {
		return
	}
	if often := max(fewestRates, len(all)/oftenOdd); odd >= often {
		b.doubts.Add(notice.New(notice.Caution, "energy-per-litre", "plant "+b.Plant.ID,
			"%d of %d times the plant made less than %.2f or more than %.2f kWh a litre: look at the units and factors of both meters, and at other sources of energy",
			odd, len(all), leastEnergyPerLitre, mostEnergyPerLitre))
		return
	}
	usualFuel, usualEnergy, usual := median(fuel), median(energy), median(ratios)
	for i := 0; i < len(all); i++ {
		if y := all[i]; !PlausiblePerLitre(y.perLitre()) {
			slip := i+1 < len(all) && y.otherSideOf(all[i+1], usual)
			b.doubtYield(y, odds(y.litres/y.days, usualFuel), odds(y.kWh/y.days, usualEnergy), slip)
			if slip { // the next interval is only the other side of it
				i++
			}
		}
	}
}

// otherSideOf tells whether the next interval is off the usual yield the other way, and both together are not: the round between
// them is a slip.
func (y yield) otherSideOf(next yield, usual float64) bool {
	here, there := math.Log(y.perLitre()/usual), math.Log(next.perLitre()/usual)
	return here*there < 0 && math.Abs(there) > clearlyOdder && PlausiblePerLitre((y.kWh+next.kWh)/(y.litres+next.litres))
}

// oftenOdd is the share of the intervals, one in so many, from which on it is no slip that energy and fuel do not go together.
// Common practice, no source.
const oftenOdd = 8

// odds is how far a figure is off its usual one, as a logarithm; all the way where it is nothing.
func odds(figure, usual float64) float64 {
	if figure <= 0 || usual <= 0 {
		return math.Inf(1)
	}
	return math.Abs(math.Log(figure / usual))
}

// yields gathers the intervals between rounds at which both were read, those together in which the day tanks' swing would count or no
// fuel ran. An engine that is run without a load makes nothing of its fuel, and tells nothing.
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
		litres, ok := b.metersRan(before.At, r.At)
		kWh := *r.EnergyRegister - *before.EnergyRegister
		switch {
		case !ok || kWh <= 0:
			before = r
		case litres > least:
			all = append(all, yield{before, r, kWh, litres, daysBetween(before.At, r.At)})
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
	fuelIsOdd := fuelOff > energyOff+clearlyOdder
	if fuelIsOdd && (slip || y.perLitre() < leastEnergyPerLitre) {
		b.doubtFuelOf(y, d, said, slip)
		return
	}
	which := "which of the two is wrong their usual rates do not tell"
	switch {
	case fuelIsOdd:
		which = "the fuel is the odd one beside what is usual: look at the meter, and at other sources of energy"
	case energyOff > fuelOff+clearlyOdder:
		which = "the energy is the odd one beside what is usual"
	}
	d.Scope, d.Subject, d.Message = EnergyFigure, "plant "+b.Plant.ID+", rounds", said+which+todo(EnergyFigure, "")
	b.doubt(y.to, d)
}

// doubtFuelOf names the meters' readings at the end of an interval.
func (b *Book) doubtFuelOf(y yield, d Doubt, said string, slip bool) {
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
