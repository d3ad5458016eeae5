package inventory

import (
	"slices"
	"time"
)

// burning says when the engines of a plant burn a product.
type burning struct {
	first bool        // whether they did before the first turn
	turns []time.Time // at which they went over to it, or from it to another
}

func (h holdings) burning(plant, product Product) burning {
	at := func(t time.Time) bool { return h.burned(plant, t) == product }
	found := burning{first: at(time.Time{})}
	var changed []time.Time
	for _, all := range h.changes {
		for _, c := range all {
			changed = append(changed, c.At)
		}
	}
	slices.SortFunc(changed, time.Time.Compare)
	burns := found.first
	for _, t := range changed {
		if at(t) != burns {
			burns, found.turns = !burns, append(found.turns, t)
		}
	}
	return found
}

// ever tells whether the product was burned at any time.
func (p burning) ever() bool { return p.first || len(p.turns) > 0 }

// at tells whether the product is burned at a moment.
func (p burning) at(t time.Time) bool {
	past := 0
	for past < len(p.turns) && !p.turns[past].After(t) {
		past++
	}
	return p.first != (past%2 == 1)
}

// within gives the turns between two moments.
func (p burning) within(after, before time.Time) (found []time.Time) {
	for _, t := range p.turns {
		if t.After(after) && t.Before(before) {
			found = append(found, t)
		}
	}
	return found
}

// all tells whether the product was burned all the time between two moments, divided whether it was for a part of it. A turn
// as near to an end as that lies at it.
func (p burning) all(from, to time.Time, near time.Duration) (all, divided bool) {
	divided = p.within(from.Add(near), to.Add(-near)) != nil
	return !divided && p.at(midway(from, to)), divided
}

// stretches gives the parts of the time between two moments in which the product was burned.
func (p burning) stretches(from, to time.Time) (found [][2]time.Time) {
	at := from
	for _, next := range append(p.within(from, to), to) {
		if p.at(at) && next.After(at) {
			found = append(found, [2]time.Time{at, next})
		}
		at = next
	}
	return found
}
