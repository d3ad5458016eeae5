package inventory

import (
	"math"
	"slices"
	"time"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// boundByDips holds the stock against what the tanks were found to hold since they were last gauged together. Each holds no more than
// at its own newest dip and what came into it since; where that is clearly less than the books say, fuel is missing, and the lesser
// figure stands.
func (b *Book) boundByDips(s *Stock, count *content, usages []Usage, expected Expectation, notes *notice.List) {
	newest := &content{at: count.at, usable: count.usable, sigma: count.sigma, dips: slices.Clone(count.dips)}
	for i, before := range count.dips {
		all := b.gaugings[before.Tank]
		last := all[len(all)-1]
		if tank := b.measuredTank(before.Tank); tank.Role == Storage && last.At.After(before.At) {
			newest.usable += float64(last.content.UsableAt15-before.content.UsableAt15) * tank.ownShare()
			newest.dips[i], newest.at = last, later(newest.at, last.At)
		}
	}
	if !newest.at.After(count.at) || b.unplaced(count.at, newest.at) {
		return
	}
	newest.usable += b.movedSince(newest)
	var ignored notice.List
	bound := *s
	bound.Gauged, bound.AtGauged = newest.at, units.LitresAt15(newest.usable)
	bound.Metered, bound.Expected = 0, 0
	b.roll(&bound, newest, usages, expected, &ignored)
	if less := float64(s.Usable - bound.Usable); less > 3*math.Max(float64(s.Sigma), float64(bound.Sigma)) {
		notes.Add(notice.New(notice.Serious, "stock-below-books", b.Plant.ID,
			"the newest dips find %.0f L less than the gauging of %s and what is known since leave: gauge all tanks together", less, b.day(count.at)))
		*s = bound
	}
}

// unplaced tells whether fuel came between two moments and nobody said into which tank.
func (b *Book) unplaced(from, to time.Time) bool {
	inside := func(at time.Time) bool { return at.After(from) && !at.After(to) }
	for _, d := range b.rows.Deliveries {
		if d.Tank == "" && b.brings(d) && inside(d.At) {
			return true
		}
	}
	for _, t := range b.rows.Transfers {
		if t.Open && inside(t.At) {
			return true
		}
	}
	var ignored notice.List
	return b.repaid(from, to, &ignored) > 0
}

// movedSince is what was moved into tanks after their own dips of a count, less what was moved out of others after theirs.
func (b *Book) movedSince(c *content) float64 {
	sum := 0.0
	for _, t := range b.rows.Transfers {
		into, from := c.dip(t.To), c.dip(t.From)
		if into != nil && t.At.After(into.At) && !t.At.After(b.close()) {
			sum += b.litres(t.Measure)
		}
		if from != nil && t.At.After(from.At) && !t.At.After(b.close()) {
			sum -= b.litres(t.Measure)
		}
	}
	return sum
}

// lastGauged says when each storage tank in service was last gauged.
func (b *Book) lastGauged() (said string) {
	for _, t := range b.tanksOf(Storage) {
		if all := b.gaugingsOf(t); b.inService(t, b.AsOf) && len(all) > 0 {
			said += "; tank " + t.ID + " was last gauged on " + b.day(all[len(all)-1].At)
		}
	}
	return said
}
