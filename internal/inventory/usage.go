package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Usage is one usage interval: what the plant burned between two moments.
type Usage struct {
	Start, End time.Time
	Litres     units.LitresAt15
	Sigma      units.LitresAt15 // standard uncertainty
	Source     Kind             // what it was found from: meter readings, a period total, gaugings
}

// sameRound is how far apart two readings may lie and still belong to one round of the operator.
const sameRound = 3 * time.Hour

// Usages gives the plant's usage intervals in order of time. Metered intervals come first; a period
// total stands where no metered interval overlaps it; gaugings alone speak where there is neither.
// An interval without readings stays one long interval.
func (b *Book) Usages() ([]Usage, notice.List) {
	var notes notice.List
	found := b.meteredUsages(&notes)
	for _, t := range b.totals(&notes) {
		if !slices.ContainsFunc(found, t.overlaps) {
			found = append(found, t)
		}
	}
	if found == nil {
		found = b.gaugedUsages(&notes)
	}
	slices.SortFunc(found, func(x, y Usage) int { return cmp.Or(x.Start.Compare(y.Start), x.End.Compare(y.End)) })
	return found, notes
}

func (u Usage) overlaps(o Usage) bool { return u.Start.Before(o.End) && o.Start.Before(u.End) }

// totals gives the period totals as usage intervals. Their uncertainty is the meter's, and they often
// cover a day more or less than they say, since meters are not read at midnight.
func (b *Book) totals(notes *notice.List) []Usage {
	var found []Usage
	for _, t := range b.rows.Totals {
		if t.LastDay > b.AsOf {
			continue
		}
		start, _ := t.FirstDay.Bounds(b.Zone)
		_, end := t.LastDay.Bounds(b.Zone)
		v := b.at15(t.Measure, "period totals", notes)
		found = append(found, Usage{start, end, units.LitresAt15(v), units.LitresAt15(MeterPrecision * math.Abs(v)), KindTotal})
	}
	return found
}

// meteredUsages is metered fuel into the day tanks, less the change in the day tanks, less pump-down
// returns, plus unmetered fills, between the moments at which every meter in use was read.
func (b *Book) meteredUsages(notes *notice.List) []Usage {
	var counts [][]count
	for _, m := range b.meters {
		if c := b.counts(m, notes); len(c) > 1 {
			counts = append(counts, c)
		}
	}
	if counts == nil {
		return nil
	}
	lead := slices.MaxFunc(counts, func(x, y []count) int { return cmp.Compare(len(x), len(y)) })
	var found []Usage
	var before *moment
	for _, c := range lead {
		now, ok := b.moment(c.at, counts)
		if !ok {
			continue
		}
		if before != nil {
			if u, ok := b.between(before, now, notes); ok {
				found = append(found, u)
			}
		}
		before = now
	}
	return found
}

// moment is a round at which all meters in use were read: their totals, and the day tanks' content.
type moment struct {
	at     time.Time
	counts []*count // one a meter, nil for a meter not in use then
	day    *content // of all day tanks together, nil where one was not gauged
}

// moment gathers the meters' totals around a time; ok is false where a meter in use was not read.
func (b *Book) moment(at time.Time, counts [][]count) (m *moment, ok bool) {
	m = &moment{at: at}
	for _, c := range counts {
		if at.Before(c[0].at.Add(-sameRound)) || at.After(c[len(c)-1].at.Add(sameRound)) {
			m.counts = append(m.counts, nil)
			continue
		}
		nearest := nearestTo(c, at, func(x count) time.Time { return x.at })
		if gap(c[nearest].at, at) > sameRound {
			return nil, false
		}
		m.counts = append(m.counts, &c[nearest])
	}
	m.day = b.contentAround(b.tanksOf(DayTank), at, sameRound)
	return m, true
}

// between is the usage from one moment to the next; ok is false where a meter's life ended in between.
func (b *Book) between(from, to *moment, notes *notice.List) (u Usage, ok bool) {
	metered := 0.0
	for i, c := range to.counts {
		switch start := from.counts[i]; {
		case c == nil && start == nil:
		case c == nil || start == nil || c.life != start.life:
			return Usage{}, false
		default:
			metered += c.litres - start.litres
		}
	}
	used := metered + b.unmeteredFills(from.at, to.at, notes)
	variance := math.Pow(MeterPrecision*metered, 2)
	switch {
	case from.day != nil && to.day != nil:
		used -= to.day.fuel - from.day.fuel
		variance += to.day.sigma*to.day.sigma + from.day.sigma*from.day.sigma
	default:
		swing := dayTankSwing * b.capacityOf(b.tanksOf(DayTank))
		variance += swing * swing
	}
	return Usage{from.at, to.at, units.LitresAt15(used), units.LitresAt15(math.Sqrt(variance)), KindReading}, true
}

// dayTankSwing is the standard deviation of the change in an ungauged day tank, as a share of its
// capacity: a level anywhere between three quarters and full (common practice, no source) has
// 0.25/√12, the difference of two √2 times that.
const dayTankSwing = 0.25 * math.Sqrt2 / 3.4641016151377544

// unmeteredFills is fuel that came into the day tanks past the meters, less what went back.
func (b *Book) unmeteredFills(after, until time.Time, notes *notice.List) float64 {
	sum := 0.0
	for _, t := range b.rows.Transfers {
		if !t.At.After(after) || t.At.After(until) {
			continue
		}
		into, outOf := b.isDayTank(t.To), b.isDayTank(t.From)
		v := b.at15(t.Measure, "transfers", notes)
		switch {
		case into && !outOf:
			sum += v
		case outOf && !into:
			sum -= v
		}
	}
	return sum
}

// gaugedUsages is the fall of total stock between gaugings of all tanks, plus what was received, less
// what was drawn. Its uncertainty is that of the gaugings.
func (b *Book) gaugedUsages(notes *notice.List) []Usage {
	all := b.tanksOf(Storage, Intermediate, DayTank)
	var found []Usage
	var before *content
	for _, g := range b.gaugingsOf(b.largest(all)) {
		now := b.contentAround(all, g.At, sameDay)
		if now == nil {
			continue
		}
		if before != nil && now.at.After(before.at) {
			used := before.fuel - now.fuel + b.received(before.at, now.at, notes) - b.drawn(before.at, now.at, notes)
			sigma := math.Hypot(before.sigma, now.sigma)
			found = append(found, Usage{before.at, now.at, units.LitresAt15(used), units.LitresAt15(sigma), KindGauging})
		}
		before = now
	}
	return found
}

// received sums the deliveries of a stretch of time; what went into a tank of another product is
// another fuel.
func (b *Book) received(after, until time.Time, notes *notice.List) float64 {
	sum := 0.0
	for _, d := range b.rows.Deliveries {
		_, ours := b.measured[d.Tank]
		if (ours || d.Tank == "") && d.At.After(after) && !d.At.After(until) {
			sum += b.at15(d.Measure, "deliveries", notes)
		}
	}
	return sum
}

// drawn sums the draws of a stretch of time; one that lies partly inside counts by its share of days.
func (b *Book) drawn(after, until time.Time, notes *notice.List) float64 {
	sum := 0.0
	from, to := calendar.Fraction(after, b.Zone), calendar.Fraction(until, b.Zone)
	for _, d := range b.rows.Draws {
		first, end := float64(d.FirstDay), float64(d.LastDay+1)
		if inside := math.Min(end, to) - math.Max(first, from); inside > 0 {
			sum += b.at15(d.Measure, "draws", notes) * inside / (end - first)
		}
	}
	return sum
}
