package forecast

import "math/bits"

// places are places in a sorted list, a bit each: a median of some of its values then takes no sorting.
type places []uint64

func newPlaces(most int) places { return make(places, (most+63)/64) }

func (p places) add(place int) { p[place/64] |= 1 << (place % 64) }

func (p places) count() (n int) {
	for _, word := range p {
		n += bits.OnesCount64(word)
	}
	return n
}

// nth gives the place that has n before it; there must be one.
func (p places) nth(n int) int {
	at := 0
	for ; n >= bits.OnesCount64(p[at]); at++ {
		n -= bits.OnesCount64(p[at])
	}
	word := p[at]
	for range n {
		word &= word - 1 // without its lowest bit
	}
	return 64*at + bits.TrailingZeros64(word)
}
