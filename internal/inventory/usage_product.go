package inventory

import (
	"slices"

	"overwinter/internal/notice"
)

// ofProduct leaves out the intervals in which the engines burned another product, and names those in which they went over
// from one to another: what the meters ran of each is not known.
func (b *Book) ofProduct(all []Usage, notes *notice.List) []Usage {
	return slices.DeleteFunc(all, func(u Usage) bool {
		near := sameRound
		if u.Source == KindTotal {
			near = sameDayButOne
		}
		own, divided := b.burning.all(u.Start, u.End, near)
		if divided {
			notes.Add(notice.New(notice.Caution, "usage-of-two-products", b.Plant.ID,
				"from %s to %s the engines burned %s and another product: how much of each is not known. Read the meters when the product changes",
				b.day(u.Start), b.day(u.End), b.Product))
		}
		return !own
	})
}

// nameUnmetered tells that no meter and no period total speaks of the book's product.
func (b *Book) nameUnmetered(found []Usage, notes *notice.List) {
	if b.burning.ever() {
		return
	}
	said := "its usage is the fall of its own tanks from gauging to gauging, whoever took the fuel"
	if len(found) == 0 {
		said = "and of its own tanks no two gaugings say what left them, so that its usage is not known"
	}
	notes.Add(notice.New(notice.Info, "usage-unmetered", b.Plant.ID, "no meter measures what is burned of %s: %s", b.Product, said))
}
