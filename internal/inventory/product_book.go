package inventory

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"overwinter/internal/calendar"
)

// holdings says which product each tank of a plant held at any time.
type holdings struct {
	tanks   []*Tank
	changes map[string][]*ProductChange // by tank, in order of time
}

func newHoldings(of []*Tank, changes []*ProductChange) holdings {
	h := holdings{tanks: of, changes: map[string][]*ProductChange{}}
	for _, c := range changes {
		h.changes[c.Tank] = append(h.changes[c.Tank], c)
	}
	for _, all := range h.changes {
		slices.SortStableFunc(all, func(x, y *ProductChange) int {
			return cmp.Or(x.At.Compare(y.At), strings.Compare(x.Key, y.Key))
		})
	}
	return h
}

// before gives the changes before a moment: what comes later says nothing of what was.
func before(changes []*ProductChange, at time.Time) []*ProductChange {
	return slices.DeleteFunc(slices.Clone(changes), func(c *ProductChange) bool { return !c.At.Before(at) })
}

// product is what a tank holds at a moment: that of its row until it was changed.
func (h holdings) product(t *Tank, at time.Time) Product {
	held := t.Product
	for _, c := range h.changes[t.ID] {
		if c.At.After(at) {
			break
		}
		held = c.Product
	}
	return held
}

// ever tells whether a tank held a product at any time.
func (h holdings) ever(t *Tank, p Product) bool {
	return t.Product == p || slices.ContainsFunc(h.changes[t.ID], func(c *ProductChange) bool { return c.Product == p })
}

// tank finds a tank of the plant, nil if there is none.
func (h holdings) tank(id string) *Tank {
	if i := slices.IndexFunc(h.tanks, func(t *Tank) bool { return t.ID == id }); i >= 0 {
		return h.tanks[i]
	}
	return nil
}

// burned is the product that the engines burn at a moment: that of the day tanks, of the other tanks where there is
// no day tank; that of the plant where they do not agree.
func (h holdings) burned(plant Product, at time.Time) Product {
	for _, role := range []Role{DayTank, Intermediate, Storage} {
		var held []Product
		for _, t := range h.tanks {
			if t.Role == role {
				held = append(held, h.product(t, at))
			}
		}
		if len(held) > 0 && len(slices.Compact(held)) == 1 {
			return held[0]
		}
		if len(held) > 0 {
			return plant
		}
	}
	return plant
}

// ProductsOf lists the products that a plant's tanks hold or once held, by code.
func ProductsOf(d *Directory, plant string, rows Rows) []Product {
	h := newHoldings(d.TanksOf(plant), rows.ProductChanges)
	var found []Product
	for _, p := range Products() {
		if slices.ContainsFunc(h.tanks, func(t *Tank) bool { return h.ever(t, p) }) {
			found = append(found, p)
		}
	}
	return found
}

// holds tells whether a tank holds the book's product at a moment.
func (b *Book) holds(t *Tank, at time.Time) bool { return b.held.product(t, at) == b.Product }

// inService tells whether a tank counts on a day: it is in service, and at the day's close holds the product.
func (b *Book) inService(t *Tank, day calendar.Day) bool {
	_, end := day.Bounds(b.Zone)
	return t.Available(day) && b.holds(t, end.Add(-time.Millisecond))
}

// brings tells whether a delivery is of the book's product. What went into a tank is what the tank holds.
func (b *Book) brings(d *Delivery) bool {
	if t := b.held.tank(d.Tank); t != nil {
		return b.holds(t, d.At)
	}
	if d.Tank != "" {
		return false
	}
	return cmp.Or(d.Product, b.Plant.Product) == b.Product
}

// changing tells whether a tank's product was changed near a moment: what it held then goes over to the other.
func (b *Book) changing(t *Tank, at time.Time) bool {
	return slices.ContainsFunc(b.held.changes[t.ID], func(c *ProductChange) bool { return gap(c.At, at) <= sameDay })
}
