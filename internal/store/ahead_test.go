package store

import (
	"iter"
	"slices"
	"testing"
	"time"
)

// counting gives the whole numbers up to n and notes in made how many were asked for.
func counting(n int, made *int) iter.Seq[int] {
	return func(yield func(int) bool) {
		for i := range n {
			if *made = i + 1; !yield(i) {
				return
			}
		}
	}
}

func TestAheadGivesTheSameItemsInOrder(t *testing.T) {
	for _, n := range []int{0, 1, 2, 100} {
		var made int
		if got, want := slices.Collect(ahead(counting(n, &made))), slices.Collect(counting(n, &made)); !slices.Equal(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

// One item is at work, one waits and one is being made: so memory holds three chunks of a stream at most.
func TestAheadIsNoFartherThanTwoItemsAhead(t *testing.T) {
	made := 0
	for i := range ahead(counting(100, &made)) {
		time.Sleep(time.Millisecond) // time enough to run too far ahead
		if i == 50 {
			break
		}
	}
	if made > 50+3 { // the maker has ended, so it may be read
		t.Errorf("%d items were made when the 51st was at work", made)
	}
}

func TestAPanicInTheMakingComesOutWhereItIsTaken(t *testing.T) {
	defer func() {
		if got := recover(); got != "broken" {
			t.Errorf("%v came out", got)
		}
	}()
	for range ahead(func(yield func(int) bool) { yield(1); panic("broken") }) {
		continue
	}
}
