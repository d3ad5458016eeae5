package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// farthestApart is how far the newest gaugings of a plant's storage tanks may lie apart and still make a stock. Common practice, no
// source.
const farthestApart = 8 * 24 * time.Hour

// countApart makes a count of the newest gauging of each storage tank where they were never gauged together. What was burned between
// the first and the last of them came out of tanks that were gauged already or out of others, nobody knows: half of it is taken off,
// give or take the rest of a rectangle. Nil where they lie too far apart.
func (b *Book) countApart(usages []Usage, expected Expectation, notes *notice.List) *content {
	sum := &content{}
	var first time.Time
	variance := 0.0
	for _, t := range b.tanksOf(Storage) {
		all := b.gaugingsOf(t)
		if !b.inService(t, b.AsOf) || len(all) == 0 {
			continue
		}
		g := all[len(all)-1]
		if first.IsZero() || g.At.Before(first) {
			first = g.At
		}
		sum.at = later(sum.at, g.At)
		sum.fuel += g.fuel()
		sum.usable += float64(g.content.UsableAt15) * t.ownShare()
		sum.assumed = sum.assumed || g.content.TemperatureAssumed
		sum.dips = append(sum.dips, g)
		variance += square(float64(g.content.Sigma))
	}
	if len(sum.dips) == 0 || sum.at.Sub(first) > farthestApart {
		return nil
	}
	burned, known := b.burnedBetween(first, sum.at, usages, expected)
	if !known {
		return nil
	}
	sum.sort()
	sum.usable -= burned / 2
	sum.sigma = math.Hypot(math.Sqrt(variance), burned/math.Sqrt(12))
	notes.Add(notice.New(notice.Caution, "gauged-apart", b.Plant.ID,
		"the tanks were not gauged together: the newest gaugings, of %s to %s, are put together", b.day(first), b.day(sum.at)))
	return sum
}

// burnedBetween is what was burned between two moments, by usage intervals and where there are none as expected.
func (b *Book) burnedBetween(from, to time.Time, usages []Usage, expected Expectation) (litres float64, known bool) {
	end := calendar.Fraction(to, b.Zone)
	for _, p := range b.since(from, usages) {
		stop := math.Min(p.to, end)
		if stop <= p.from {
			continue
		}
		share := (stop - p.from) / (p.to - p.from)
		switch {
		case p.usage != nil:
			litres += share * p.share * float64(p.usage.Litres)
		case expected != nil:
			v, _ := expected(p.from, stop)
			litres += float64(v)
		default:
			return 0, false
		}
	}
	return litres, true
}
