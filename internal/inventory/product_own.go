package inventory

import (
	"slices"
	"strings"
	"time"

	"overwinter/internal/notice"
)

// keepOwn leaves out the rows that are of other products alone: those of their tanks, and, in the book of a product that is not
// the plant's own, the draws. Where the engines never burned that product, what the plant as a whole burned and generated is
// of another, too.
func (b *Book) keepOwn() {
	other := map[string]bool{}
	for _, t := range b.held.tanks {
		if !b.held.ever(t, b.Product) {
			other[t.ID] = true
		}
	}
	if len(other) > 0 {
		b.rows.Gaugings = slices.DeleteFunc(slices.Clone(b.rows.Gaugings), func(g *Gauging) bool { return other[g.Tank] })
		b.rows.Transfers = slices.DeleteFunc(slices.Clone(b.rows.Transfers), func(t *Transfer) bool { return other[t.From] && other[t.To] })
	}
	if b.Product == b.Plant.Product {
		return
	}
	b.rows.Draws = nil
	if !b.burning.ever() {
		b.rows.Readings, b.rows.Swaps, b.rows.Totals, b.rows.Rounds = nil, nil, nil, nil
	}
}

// feeds tells whether a tank is a day tank, and the engines burn at a moment what it holds.
func (b *Book) feeds(id string, at time.Time) bool {
	t := b.held.tank(id)
	return t != nil && t.Role == DayTank && b.held.product(t, at) == b.held.burned(b.Plant.Product, at)
}

// nameShared tells where day tanks hold several products at the close of the as-of day: a meter does not say which of them it
// fills, so that the plant's own product has all that the meters run.
func (b *Book) nameShared(notes *notice.List) {
	if len(b.meters) == 0 || b.Product != b.Plant.Product {
		return
	}
	now := b.close().Add(-time.Millisecond)
	var held []string
	for _, t := range b.held.tanks {
		if p := string(b.held.product(t, now)); t.Role == DayTank && t.Available(b.AsOf) && !slices.Contains(held, p) {
			held = append(held, p)
		}
	}
	if len(held) > 1 {
		notes.Add(notice.New(notice.Caution, "meters-of-two-products", b.Plant.ID,
			"the day tanks hold %s: all that the meters run is counted as %s. If a meter measures another of them, its litres are wrong here",
			strings.Join(held, " and "), b.Product))
	}
}
