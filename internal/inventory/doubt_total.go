package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// When a period total is doubted for its size. Common practice, no source: between neighbouring months of one
// season real plants differ by less.
const (
	farAbove        = 2.6
	farBelow        = 0.38
	leastTwoPeriods = 1.6
	mostTwoPeriods  = 2.6
	wholeYear       = 365
	sureTolerance   = 0.08 // of the ratio of a known cause, where one side alone or no season speaks
	fewestTotals    = 3    // of two that differ nobody knows which is wrong
	totalSpreads    = 4    // robust standard deviations of the logarithms of a plant's own totals
)

// Energy per volume that a diesel plant can show, in kWh per US gallon. The cleaners of Alaska's rate-support
// reports take less than 5 or more than 18 for impossible; the medians by size of plant run from 7.5 to 14.8
// (github.com/acep-uaf/ak-energy-statistics at commit ea269ba5e546, monthly reports of 2016 to 2025).
const (
	leastEnergyPerGallon = 6
	mostEnergyPerGallon  = 18
	leastEnergyPerLitre  = leastEnergyPerGallon / units.LitresPerUSGallon
	mostEnergyPerLitre   = mostEnergyPerGallon / units.LitresPerUSGallon
)

// doubtTotals looks through the plant's period totals, and the energy beside them.
func (b *Book) doubtTotals() {
	var totals []*PeriodTotal
	var fuel, energy series
	for _, t := range b.rows.Totals {
		if t.LastDay > b.AsOf || b.leftOut[t] {
			continue
		}
		var ignored notice.List
		days := float64(t.LastDay - t.FirstDay + 1)
		totals = append(totals, t)
		fuel.add(t, b.at15(t.Measure, "", &ignored)/days)
		energy.add(t, orElse(t.Energy, 0)/days)
	}
	fuelBefore, fuelAfter := fuel.ratios()
	energyBefore, energyAfter := energy.ratios()
	spread := spreadOf(fuelBefore)
	for i, t := range totals {
		ratio := odd(fuelBefore[i], fuelAfter[i])
		oneSided := fuelBefore[i] == 0 || fuelAfter[i] == 0
		b.doubtTotal(totals, i, fuel.perDay[i], ratio, spread, oneSided)
		if t.Energy != nil {
			b.doubtEnergy(t, energy.perDay[i]/fuel.perDay[i], ratio, odd(energyBefore[i], energyAfter[i]))
		}
	}
	b.totalRates = nil
	for i, v := range fuel.perDay {
		if v > 0 && !b.leftOut[totals[i]] {
			start, _ := totals[i].FirstDay.Bounds(b.Zone)
			_, end := totals[i].LastDay.Bounds(b.Zone)
			b.totalRates = append(b.totalRates, rate{midway(start, end), v})
		}
	}
}

func (s *series) add(t *PeriodTotal, perDay float64) {
	s.middle = append(s.middle, (t.FirstDay+t.LastDay)/2)
	s.perDay = append(s.perDay, perDay)
}

// doubtTotal doubts a total of nothing or less, and one that both its neighbours and its season contradict.
func (b *Book) doubtTotal(totals []*PeriodTotal, i int, perDay, ratio, spread float64, oneSided bool) {
	t := totals[i]
	switch {
	case t.Volume < 0:
		b.doubtVolume(t, NotPositive, perDay, 0, math.Inf(1))
		return
	case t.Volume == 0:
		if !stoodStill(totals, i) && !b.stoodUnchanged(t) {
			b.doubtVolume(t, NothingBurned, perDay, 0, math.Inf(1))
		}
		return
	case len(totals) < fewestTotals:
		return
	}
	tolerance := ratioTolerance
	unsure := oneSided && (i == 0 && ratio < 1 || totals[len(totals)-1].LastDay-totals[0].FirstDay < wholeYear)
	if unsure { // it may have begun in the period, or be the first of its season
		tolerance = sureTolerance
	}
	cause := closestCause(ratio, volumeRatios, tolerance)
	switch {
	case math.Abs(math.Log(ratio)) <= totalSpreads*spread:
		return
	case cause != "":
	case ratio >= leastTwoPeriods && ratio <= mostTwoPeriods && missingBefore(totals, i):
		cause = PeriodsInOne
	case unsure:
		return
	case ratio > farAbove:
		cause = BeyondBurn
	case ratio < farBelow:
		cause = BelowBurn
	default:
		return
	}
	b.doubtVolume(t, cause, perDay, perDay/ratio*farBelow, perDay/ratio*farAbove)
}

// stoodStill tells that a plant may well have burned nothing, as one on an intertie does: it made no energy either, or
// stood still before or after as well, or nothing else is known of it.
func stoodStill(totals []*PeriodTotal, i int) bool {
	if e := totals[i].Energy; e != nil {
		return *e == 0
	}
	return len(totals) == 1 || i > 0 && totals[i-1].Volume == 0 || i+1 < len(totals) && totals[i+1].Volume == 0
}

// stoodUnchanged tells that the storage tanks were gauged about the beginning and the end of a period, and did not fall.
func (b *Book) stoodUnchanged(t *PeriodTotal) bool {
	start, end := b.bounds(t)
	storage := b.bulkOn(t.LastDay)
	from, to := b.contentAround(storage, start, sameDayButOne), b.contentAround(storage, end, sameDayButOne)
	if from == nil || to == nil || !to.at.After(from.at) {
		return false
	}
	var ignored notice.List
	fell := from.fuel - to.fuel + b.received(from, to, &ignored) - b.drawn(from.at, to.at, &ignored)
	return math.Abs(fell) <= 3*b.changeSigma(from, to)
}

// sameDayButOne is how far a gauging may lie from the turn of a period and still tell of it. Common practice, no source.
const sameDayButOne = 36 * time.Hour

// missingBefore tells that the days before a period are in no other one, though there are earlier ones.
func missingBefore(totals []*PeriodTotal, i int) bool {
	for _, t := range totals[:i] {
		if t.LastDay >= totals[i].FirstDay-1 {
			return false
		}
	}
	return i > 0
}

func (b *Book) doubtVolume(t *PeriodTotal, cause Cause, perDay, low, high float64) {
	d := Doubt{At: b.start(t.FirstDay), Cause: cause, Found: perDay, Low: low, Unit: "L a day", Subject: "plant " + b.Plant.ID + ", period totals"}
	expected := "more than 0"
	if !math.IsInf(high, 1) {
		d.High = &high
		expected = figure(math.Round(low)) + " to " + figure(math.Round(high))
	}
	d.Message = "the total from " + t.FirstDay.String() + " to " + t.LastDay.String() + " is " + figure(math.Round(perDay)) + " L a day, expected " +
		expected + ": " + causeWords[cause] + todo(WholeRow, "")
	b.doubt(t, d)
}

func (b *Book) start(day calendar.Day) time.Time {
	at, _ := day.Bounds(b.Zone)
	return at
}

// doubtEnergy names the odd one of two figures that do not go together: the one that its own neighbours
// contradict more. Where they do not tell, the fuel stands and the energy is left out.
func (b *Book) doubtEnergy(t *PeriodTotal, perLitre, fuelRatio, energyRatio float64) {
	if t.Volume <= 0 || perLitre >= leastEnergyPerLitre && perLitre <= mostEnergyPerLitre {
		return
	}
	high := mostEnergyPerLitre
	d := Doubt{
		At: b.start(t.FirstDay), Cause: EnergyPerLitre, Scope: EnergyFigure, Found: perLitre, Low: leastEnergyPerLitre, High: &high, Unit: "kWh/L",
		Subject: "plant " + b.Plant.ID + ", period totals",
	}
	fuelOff, energyOff := math.Abs(math.Log(fuelRatio)), math.Abs(math.Log(energyRatio))
	which := "which of the two is wrong its neighbours do not tell"
	switch {
	case fuelOff > energyOff+clearlyOdder:
		d.Scope, which = WholeRow, "the fuel is the odd one beside its neighbours"
	case energyOff > fuelOff+clearlyOdder:
		which = "the energy is the odd one beside its neighbours"
	}
	d.Message = "from " + t.FirstDay.String() + " to " + t.LastDay.String() + " the plant made " + figure(math.Round(100*perLitre)/100) +
		" kWh a litre, expected " + figure(math.Round(100*d.Low)/100) + " to " + figure(math.Round(100*high)/100) + ": " + which + todo(d.Scope, "")
	b.doubt(t, d)
}

// clearlyOdder is the difference of two ratios' logarithms that tells which of them is odd: a quarter more.
// Common practice, no source.
const clearlyOdder = 0.22
