package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Usage is one usage interval: what the plant burned between two moments.
type Usage struct {
	Start, End time.Time
	Litres     units.LitresAt15
	Sigma      units.LitresAt15 // standard uncertainty
	Source     Kind             // what it was found from: meter readings, a period total, gaugings
	Quality    Quality
	Energy     *float64 // generated in the same time, kWh; nil where that is not known for the very same time
}

// sameRound is how far apart two readings may lie and still belong to one round of the operator.
const sameRound = 3 * time.Hour

// Usages gives the usage intervals of the book's product in order of time. Metered intervals come first; a period
// total stands where no metered interval overlaps it; gaugings speak where there is neither. An
// interval without readings stays one long interval. What the engines burned of another product is in its own book.
func (b *Book) Usages() ([]Usage, notice.List) {
	var notes notice.List
	metered := b.ofProduct(b.meteredUsages(b.burning.turns, &notes), &notes)
	found := b.withGauged(metered, b.ofProduct(b.totals(&notes), &notes), &notes)
	b.nameShared(&notes)
	b.nameUnmetered(found, &notes)
	return found, notes
}

// PlantUsages is [Book.Usages] with all that meters and period totals say of the plant, whatever product its engines burned:
// the history that a forecast of the plant learns from.
func (b *Book) PlantUsages() ([]Usage, notice.List) {
	var notes notice.List
	found := b.withGauged(b.meteredUsages(nil, &notes), b.totals(&notes), &notes)
	return found, notes
}

// withGauged adds to metered intervals the totals beside them, and what gaugings say beside both.
func (b *Book) withGauged(found, totals []Usage, notes *notice.List) []Usage {
	for _, t := range totals {
		if i := slices.IndexFunc(found, t.overlaps); i >= 0 {
			notes.Add(notice.New(notice.Info, "total-overlapped", b.Plant.ID,
				"the total from %s is left out: %s speaks for part of its time", b.day(t.Start), sourceWords[found[i].Source]))
			continue
		}
		found = append(found, t)
	}
	gauged := b.gaugedUsages(notes)
	b.nameTotals(found, gauged, notes)
	inTime := func(x, y Usage) int { return cmp.Or(x.Start.Compare(y.Start), x.End.Compare(y.End)) }
	slices.SortFunc(found, inTime)
	told := found // none overlaps another
	for _, g := range gauged {
		i := firstAfter(told, g.Start, func(u Usage) time.Time { return u.End })
		if i == len(told) || !g.overlaps(told[i]) {
			found = append(found, g)
		}
	}
	slices.SortFunc(found, inTime)
	usual := b.usualGauged(found)
	for i := range found {
		found[i] = b.nameOdd(b.judge(found[i]), usual, notes)
	}
	return found
}

// usualGauged is what is usual of the intervals that were derived from the stock, nil where there are none.
func (b *Book) usualGauged(found []Usage) *usualRates {
	var derived []Usage
	for _, u := range found {
		if u.Source == KindGauging {
			derived = append(derived, u)
		}
	}
	if derived == nil {
		return nil
	}
	return newUsualRates(gaugedRates(derived))
}

// sourceWords say what an interval was found from.
var sourceWords = map[Kind]string{KindReading: "a meter", KindTotal: "another total", KindGauging: "a gauging"}

func (u Usage) overlaps(o Usage) bool { return u.Start.Before(o.End) && o.Start.Before(u.End) }

// totals gives the period totals as usage intervals. Their uncertainty is the meter's, and they often
// cover a day more or less than they say, since meters are not read at midnight.
func (b *Book) totals(notes *notice.List) []Usage {
	var found []Usage
	for _, t := range b.rows.Totals {
		if t.LastDay > b.AsOf {
			continue
		}
		start, end := b.bounds(t)
		v := b.at15(t.Measure, "period totals", notes)
		found = append(found, Usage{Start: start, End: end, Litres: units.LitresAt15(v),
			Sigma: units.LitresAt15(MeterPrecision * math.Abs(v)), Source: KindTotal, Energy: t.Energy})
	}
	return found
}

// bounds gives when a period total begins and ends. Two that share a day, the last of the one and the first of the other, were
// read on it: they meet at its middle.
func (b *Book) bounds(t *PeriodTotal) (start, end time.Time) {
	start, next := t.FirstDay.Bounds(b.Zone)
	before, end := t.LastDay.Bounds(b.Zone)
	for _, o := range b.rows.Totals {
		switch {
		case o == t || o.FirstDay == o.LastDay || t.FirstDay == t.LastDay || b.leftOut[o]:
		case o.LastDay == t.FirstDay && o.LastDay <= b.AsOf:
			start = midway(start, next)
		case o.FirstDay == t.LastDay && o.LastDay <= b.AsOf:
			end = midway(before, end)
		}
	}
	return start, end
}
