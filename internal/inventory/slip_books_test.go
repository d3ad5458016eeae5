package inventory

import (
	"math"
	"slices"
	"testing"
)

// tally counts what the books say of a slip.
type tally struct{ all, doubted, named, innocent int }

func (x *tally) add(before, after []Doubt, keys []string) {
	named, innocent := false, false
	for _, d := range after {
		known := slices.ContainsFunc(before, func(o Doubt) bool { return o.Kind == d.Kind && o.Key == d.Key })
		right := slices.Contains(keys, d.Key)
		named, innocent = named || right, innocent || !right && !known
	}
	x.all, x.doubted, x.named, x.innocent = x.all+1, x.doubted+one(named || innocent), x.named+one(named), x.innocent+one(innocent)
}

// Into books that are true otherwise one slip is put at a time. Their shares, in the table of slips, are those of 1 000 plants, rounded
// down to whole percents; three standard deviations of the binomial distribution are allowed.
func TestTheBooksFindTheSlipsThatTheyClaimToFind(t *testing.T) {
	plants, enough := simulatedPlants(t, 80)
	found := make([]tally, len(slips))
	for n := range plants {
		h := newHonest(2, uint64(n))
		h.live()
		sound := h.rows
		before := doubtsOf(t, h)
		for i, s := range slips {
			h.rows = sound.copied()
			if keys := s.make(h); keys != nil {
				found[i].add(before, doubtsOf(t, h), keys)
			}
		}
	}
	for i, s := range slips {
		x := found[i]
		percent := func(n int) float64 { return 100 * float64(n) / math.Max(float64(x.all), 1) }
		t.Logf("%-32s %5d: doubted %5.1f %%, the right row named %5.1f %%, another doubted %5.1f %%", s.name, x.all, percent(x.doubted), percent(x.named), percent(x.innocent))
		if enough && (x.doubted < atLeast(x.all, s.doubted/100) || x.named < atLeast(x.all, s.named/100)) {
			t.Errorf("%s: want %.0f %% doubted and %.0f %% named, but for chance", s.name, s.doubted, s.named)
		}
	}
}

func doubtsOf(t *testing.T, h *honest) []Doubt {
	b, err := h.book()
	if err != nil {
		t.Fatal(err)
	}
	return b.Doubtful()
}

// copied is the rows with lists of their own, of the kinds that a slip may befall.
func (r *Rows) copied() Rows {
	c := *r
	c.Readings, c.Deliveries, c.Totals, c.Gaugings = slices.Clone(r.Readings), slices.Clone(r.Deliveries), slices.Clone(r.Totals), slices.Clone(r.Gaugings)
	return c
}
