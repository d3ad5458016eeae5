package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// received sums the deliveries between two counts of stock. Into a named tank they count from that
// tank's own gauging on, which need not be the moment of the count; what went into a tank of another
// product is another fuel.
func (b *Book) received(from, to *content, notes *notice.List) float64 {
	return b.deliveries(from, to, notes, func(*Tank) float64 { return 1 })
}

// receivedOwn is what was received since a count, of shared tanks the plant's share.
func (b *Book) receivedOwn(from *content, until time.Time, notes *notice.List) float64 {
	return b.deliveries(from, &content{at: until}, notes, (*Tank).ownShare)
}

func (b *Book) deliveries(from, to *content, notes *notice.List, share func(*Tank) float64) float64 {
	sum := 0.0
	for _, d := range b.deliveriesWithin(from.earliest(), to.latest()) {
		if !b.brings(d) || !d.At.After(from.gauged(d.Tank)) || d.At.After(to.gauged(d.Tank)) {
			continue
		}
		part := 1.0
		if t := b.held.tank(d.Tank); t != nil {
			part = share(t)
		}
		sum += part * b.at15(d.Measure, "deliveries", notes)
	}
	return sum
}

// drawn sums the draws of a stretch of time; one that lies partly inside counts by its share of days. They are of
// the plant's own product.
func (b *Book) drawn(after, until time.Time, notes *notice.List) float64 {
	return b.draws(after, until, notes, func(p Purpose) bool { return p != Repayment })
}

// repaid is drawn for loans that were given back in kind: they come in.
func (b *Book) repaid(after, until time.Time, notes *notice.List) float64 {
	return b.draws(after, until, notes, func(p Purpose) bool { return p == Repayment })
}

func (b *Book) draws(after, until time.Time, notes *notice.List, of func(Purpose) bool) float64 {
	sum := 0.0
	if len(b.rows.Draws) == 0 {
		return sum
	}
	from, to := calendar.Fraction(after, b.Zone), calendar.Fraction(until, b.Zone)
	for _, d := range b.drawsOn(calendar.DayOf(after, b.Zone), calendar.DayOf(until, b.Zone)) {
		first, end := float64(d.FirstDay), float64(d.LastDay+1)
		if inside := math.Min(end, to) - math.Max(first, from); inside > 0 && of(d.Purpose) && !b.leftOut[d] {
			sum += b.at15(d.Measure, "draws", notes) * inside / (end - first)
		}
	}
	return sum
}

// corrected sums the corrections of book stock whose days end in a stretch of time.
func (b *Book) corrected(after, until time.Time, notes *notice.List) float64 {
	sum := 0.0
	for _, c := range b.rows.CountCorrections {
		if _, end := c.Day.Bounds(b.Zone); c.Product == b.Product && end.After(after) && !end.After(until) {
			sum += b.at15(c.Measure, "count corrections", notes)
		}
	}
	return sum
}
