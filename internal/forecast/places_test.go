package forecast

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The reference is the sorted list of the places.
func TestPlacesAreCountedAndFoundInTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const most = 300
		all := rapid.SliceOfNDistinct(rapid.IntRange(0, most-1), 1, most, rapid.ID[int]).Draw(t, "places")
		p := newPlaces(most)
		for _, place := range all {
			p.add(place)
		}
		slices.Sort(all)
		if p.count() != len(all) {
			t.Fatalf("%d places, want %d", p.count(), len(all))
		}
		for n, want := range all {
			if got := p.nth(n); got != want {
				t.Fatalf("place %d is %d, want %d", n, got, want)
			}
		}
	})
}
