package inventory

import (
	"cmp"
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// metered is one meter's running total.
type metered struct {
	meter   *Meter
	counts  []count
	retired bool
}

// at gives the meter's total around a time: nil before its first reading, the last one after it was
// taken out. ok is false where it was in use and not read.
func (m *metered) at(when time.Time) (c *count, ok bool) {
	last := len(m.counts) - 1
	switch {
	case when.Before(m.counts[0].at.Add(-sameRound)):
		return nil, true
	case m.retired && when.After(m.counts[last].at):
		return &m.counts[last], true
	}
	c = &m.counts[nearestTo(m.counts, when, func(x count) time.Time { return x.at })]
	if gap(c.at, when) <= sameRound {
		return c, true
	}
	return m.amid(when)
}

// A meter that is read at another hour than the tanks runs evenly from day to day, give or take. Common practice, no source.
const (
	readDaily = 36 * time.Hour // between two readings at most
	unevenRun = 0.3            // share of what ran from the nearer reading on
)

// amid is a meter's total between two readings of daily rounds, with the uncertainty of not having been read then.
func (m *metered) amid(when time.Time) (c *count, ok bool) {
	after, _ := slices.BinarySearchFunc(m.counts, when, func(c count, t time.Time) int { return c.at.Compare(t) })
	if after == 0 || after == len(m.counts) {
		return nil, false
	}
	first, last := m.counts[after-1], m.counts[after]
	if first.life != last.life || last.at.Sub(first.at) > readDaily {
		return nil, false
	}
	between := m.total(when)
	least, most := m.runsAbout(after)
	between.guess = unevenRun * math.Min(between.litres-first.litres, last.litres-between.litres)
	if most > 2*least { // a meter that runs by fills
		between.guess = math.Max(between.guess, (most-least)/math.Sqrt(12))
	}
	return &between, true
}

// runsAbout gives the least and the most that the meter ran between two of its readings about one.
func (m *metered) runsAbout(i int) (least, most float64) {
	least = math.Inf(1)
	for j := max(1, i-sideReach); j <= min(len(m.counts)-1, i+sideReach); j++ {
		run := m.counts[j].litres - m.counts[j-1].litres
		least, most = math.Min(least, run), math.Max(most, run)
	}
	return least, most
}

// meteredUsages is metered fuel into the day tanks, less the change in the day tanks, less pump-down
// returns, plus unmetered fills, between the moments at which every meter in use was read. At a turn between two rounds they ran
// evenly, where they are read daily.
func (b *Book) meteredUsages(turns []time.Time, notes *notice.List) []Usage {
	var meters []metered
	for _, m := range b.meters {
		if c := b.counts(m, notes); len(c) > 1 || len(c) == 1 && b.doubtsMeter(m) {
			meters = append(meters, metered{m, c, b.retired(m)})
		}
	}
	if meters == nil {
		return nil
	}
	lead := slices.MaxFunc(meters, func(x, y metered) int { return cmp.Compare(len(x.counts), len(y.counts)) })
	b.nameSilent(meters, lead, notes)
	var found []Usage
	var before *moment
	for _, at := range lead.rounds(turns) {
		now, ok := b.moment(at, meters)
		if !ok {
			continue
		}
		if before != nil && now.at.After(before.at) {
			if u, ok := b.between(before, now, notes); ok {
				found = append(found, u)
			}
		}
		before = now
	}
	return found
}

// rounds gives the moments at which the meter was read, and those turns that lie in no round.
func (m *metered) rounds(turns []time.Time) []time.Time {
	var all []time.Time
	for _, c := range m.counts {
		all = append(all, c.at)
	}
	first, last := all[0], all[len(all)-1]
	for _, t := range turns {
		if t.Before(first) || t.After(last) {
			continue
		}
		if near := m.counts[nearestTo(m.counts, t, func(c count) time.Time { return c.at })]; gap(near.at, t) > sameRound {
			all = append(all, t)
		}
	}
	slices.SortFunc(all, time.Time.Compare)
	return all
}

// nameSilent names the meters that are not read any more while the leading one is.
func (b *Book) nameSilent(meters []metered, lead metered, notes *notice.List) {
	newest := lead.counts[len(lead.counts)-1].at
	for _, m := range meters {
		last := m.counts[len(m.counts)-1].at
		if !m.retired && newest.Sub(last) > max(silentAfter, 2*m.rhythm()) {
			notes.Add(notice.New(notice.Serious, "meter-silent", "meter "+m.meter.ID,
				"has not been read since %s though others were: what the plant used since is not known from meters", b.day(last)))
		}
	}
}

// rhythm is how far apart the meter's readings usually lie.
func (m *metered) rhythm() time.Duration {
	var apart []float64
	for i := 1; i < len(m.counts); i++ {
		apart = append(apart, float64(m.counts[i].at.Sub(m.counts[i-1].at)))
	}
	return time.Duration(median(apart))
}

// silentAfter is how long a meter may go unread beside others before it is named.
const silentAfter = 3 * 24 * time.Hour

// moment is a round at which all meters in use were read: their totals, and the day tanks' content.
type moment struct {
	at     time.Time
	counts []*count                   // one a meter, nil for one that was not there yet
	began  []bool                     // whether a meter's first count is that of its putting in
	day    map[string]measuredGauging // of each day tank that was gauged then
}

// moment gathers the meters' totals around a time; ok is false where a meter in use was not read.
func (b *Book) moment(at time.Time, meters []metered) (m *moment, ok bool) {
	m = &moment{at: at}
	for i := range meters {
		c, ok := meters[i].at(at)
		if !ok {
			return nil, false
		}
		m.counts, m.began = append(m.counts, c), append(m.began, meters[i].counts[0].new)
	}
	m.day = map[string]measuredGauging{}
	for _, t := range b.tanksOf(DayTank) {
		if g, ok := b.gaugingAround(t, at, sameRound); ok {
			m.day[t.ID] = g
		}
	}
	return m, true
}

// between is the usage from one moment to the next; ok is false where a meter's life ended in between.
func (b *Book) between(from, to *moment, notes *notice.List) (u Usage, ok bool) {
	metered := 0.0
	for i, c := range to.counts {
		switch start := from.counts[i]; {
		case c == nil && start == nil:
		case start == nil && to.began[i] && c.life == 0:
			metered += c.litres
		case c == nil || start == nil || c.life != start.life:
			return Usage{}, false
		default:
			metered += c.litres - start.litres
		}
	}
	used := metered + b.unmeteredFills(from.at, to.at, notes)
	variance := math.Pow(MeterPrecision*metered, 2) + guessed(from.counts) + guessed(to.counts)
	for _, t := range b.tanksOf(DayTank) {
		if !b.feeds(t.ID, midway(from.at, to.at)) {
			continue
		}
		start, ok1 := from.day[t.ID]
		end, ok2 := to.day[t.ID]
		if ok1 && ok2 {
			used -= end.fuel() - start.fuel()
			variance += square(float64(end.content.FuelSigma)) + square(float64(start.content.FuelSigma))
		} else {
			variance += square(dayTankSwing * b.capacityOf([]*Tank{t}))
		}
	}
	return Usage{Start: from.at, End: to.at, Litres: units.LitresAt15(used),
		Sigma: units.LitresAt15(math.Sqrt(variance)), Source: KindReading}, true
}

// guessed is the variance that comes of meters that were not read in the round.
func guessed(counts []*count) (variance float64) {
	for _, c := range counts {
		if c != nil {
			variance += square(c.guess)
		}
	}
	return variance
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
		into, outOf := b.feeds(t.To, t.At), b.feeds(t.From, t.At)
		switch {
		case into && !outOf:
			sum += b.at15(t.Measure, "transfers", notes)
		case outOf && !into:
			sum -= b.at15(t.Measure, "transfers", notes)
		}
	}
	for _, d := range b.rows.Deliveries {
		if d.At.After(after) && !d.At.After(until) && b.feeds(d.Tank, d.At) {
			sum += b.at15(d.Measure, "deliveries", notes)
		}
	}
	return sum
}
