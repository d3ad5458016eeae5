package inventory

import (
	"slices"
	"testing"
)

// A figure follows on from another where it is larger by 1 to 9.
func TestTheChainLeavesOutWhatIsCheapest(t *testing.T) {
	tests := []struct {
		name    string
		figures []int
		fixed   int // index of a figure that somebody confirmed, −1 for none
		kept    []int
		changed []int // those that do not follow on from the one kept before
	}{
		{"none", nil, -1, nil, nil},
		{"all follow", []int{1, 2, 3, 4}, -1, []int{0, 1, 2, 3}, nil},
		// 10 for the one against 30 for two changes.
		{"one slip", []int{1, 2, 99, 3, 4}, -1, []int{0, 1, 3, 4}, nil},
		{"two slips in a row", []int{1, 2, 99, 70, 3, 4}, -1, []int{0, 1, 4, 5}, nil},
		// 20 for two that agree with each other against 30 for there and back.
		{"two slips that agree", []int{1, 2, 50, 51, 3, 4}, -1, []int{0, 1, 4, 5}, nil},
		{"the newest", []int{1, 2, 3, 99}, -1, []int{0, 1, 2}, nil},
		// 15 for one change against 20 for two slips.
		{"the newest two agree", []int{1, 2, 3, 50, 51}, -1, []int{0, 1, 2, 3, 4}, []int{3}},
		{"the newest two agree with nothing", []int{1, 2, 3, 50, 20}, -1, []int{0, 1, 2}, nil},
		{"the oldest", []int{99, 1, 2, 3}, -1, []int{1, 2, 3}, nil},
		{"the oldest two agree", []int{50, 51, 1, 2, 3}, -1, []int{0, 1, 2, 3, 4}, []int{2}},
		// It stands: what follows is a change, here as there.
		{"one slip that is confirmed", []int{1, 2, 99, 3, 4, 5}, 2, []int{0, 1, 2, 3, 4, 5}, []int{2, 3}},
		{"the newest is confirmed", []int{1, 2, 3, 99}, 3, []int{0, 1, 2, 3}, []int{3}},
		{"the oldest is confirmed", []int{99, 1, 2, 3}, 0, []int{0, 1, 2, 3}, []int{1}},
		{"seven slips in a row", []int{1, 90, 80, 70, 60, 50, 40, 30, 2, 3}, -1, []int{0, 8, 9}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			kept, was := chain(len(tt.figures), func(i int) bool { return i == tt.fixed }, func(i, j int) step {
				by := tt.figures[j] - tt.figures[i]
				return step{follows: by > 0 && by < 10}
			})
			var changed []int
			for at, yes := range was {
				if yes {
					changed = append(changed, kept[at])
				}
			}
			if !slices.Equal(kept, tt.kept) || !slices.Equal(changed, tt.changed) {
				t.Errorf("kept %v, changed at %v; want %v, %v", kept, changed, tt.kept, tt.changed)
			}
		})
	}
}

// Of two figures that both go between 0 and 20 the one half-way is kept: the run is evener.
func TestBetweenEqualsTheChainKeepsTheEvenest(t *testing.T) {
	for _, figures := range [][]float64{{0, 10, 3, 20}, {0, 17, 10, 20}} {
		kept, _ := chain(4, func(int) bool { return false }, func(i, j int) step {
			by := figures[j] - figures[i]
			return step{follows: by > 0, roughness: by * by}
		})
		if len(kept) != 3 || figures[kept[1]] != 10 {
			t.Errorf("of %v kept %v", figures, kept)
		}
	}
}

// A run through zero and one of more than half the register cost 6 each: one alone is cheaper than a slip, both are dearer.
func TestARolloverIsCheaperThanASlipAndTwoOddThingsAreDearer(t *testing.T) {
	for _, tt := range []struct {
		price int
		kept  int
	}{{rolloverPrice, 3}, {2 * rolloverPrice, 2}} {
		kept, _ := chain(3, func(int) bool { return false }, func(i, j int) step {
			if j == 2 && i == 1 {
				return step{follows: true, price: tt.price}
			}
			return step{follows: true}
		})
		if len(kept) != tt.kept {
			t.Errorf("price %d: kept %v, want %d", tt.price, kept, tt.kept)
		}
	}
}
