package inventory

import (
	"maps"
	"math"

	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// boundByDips holds the stock against what the storage tanks were found to hold since they were last gauged together. Each holds no
// more than at its own newest dip and what it was given since; where that is clearly less than the books say, fuel is missing, and
// the lesser figure stands.
func (b *Book) boundByDips(s *Stock, count *content, usages []Usage, expected Expectation, notes *notice.List) {
	newest := &content{at: count.at, usable: count.usable, sigma: count.sigma, taken: maps.Clone(count.taken)}
	later := false
	for id, before := range count.dips {
		tank := b.measuredTank(id)
		all := b.gaugings[id]
		last := all[len(all)-1]
		if tank.Role != Storage || !last.At.After(before.At) {
			continue
		}
		newest.usable += float64(last.content.UsableAt15-before.content.UsableAt15) * tank.ownShare()
		newest.taken[id], later = last.At, true
		if last.At.After(newest.at) {
			newest.at = last.At
		}
	}
	if !later {
		return
	}
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

// lastGauged says when each storage tank in service was last gauged.
func (b *Book) lastGauged() (said string) {
	for _, t := range b.tanksOf(Storage) {
		if all := b.gaugingsOf(t); b.inService(t, b.AsOf) && len(all) > 0 {
			said += "; tank " + t.ID + " was last gauged on " + b.day(all[len(all)-1].At)
		}
	}
	return said
}
