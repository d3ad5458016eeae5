package resupply

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Paths burn 10, 20, ..., 100 L a day from 1000 L; an order of 500 L comes on day 20. On day 14 the
// paths hold 860, 720, ..., −400 L: the 1st, 5th and 9th from below are nothing, 160 and 720. On day 21 they
// hold 1290, 1080, ..., −600 L: nothing, 240 and 1080. Five days of reserve are 50, 100, ..., 500 L.
func TestTheProjectionIsTheStockOverPaths(t *testing.T) {
	rates := perPath(10, func(s int) float64 { return float64(10 * (s + 1)) })
	p := &Problem{
		AsOf: asOf, Horizon: 25, Burn: steady{rates, 30}, Stock: perPath(10, func(int) float64 { return 1000 }),
		Reserve:  Reserve{Days: 5},
		Receipts: []Receipt{{Order: "A1", Litres: 500, Day: perPath(10, func(int) int { return 20 })}},
	}
	got := p.Project(7)
	want := []Projected{
		{0, 1000, 1000, 1000, 250}, {7, 300, 580, 860, 250}, {14, 0, 160, 720, 250}, {21, 0, 240, 1080, 250},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestPickGivesTheValueOfItsRank(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-3, 3), 1, 60).Draw(t, "values")
		if rapid.Bool().Draw(t, "ties") {
			for i := range values {
				values[i] = float64(int(values[i]))
			}
		}
		rank := rapid.IntRange(0, len(values)-1).Draw(t, "rank")
		want := slices.Sorted(slices.Values(values))
		if got := pick(values, rank); got != want[rank] {
			t.Fatalf("rank %d of %v is %v, got %v", rank, want, want[rank], got)
		}
		if slices.Sort(values); !slices.Equal(values, want) {
			t.Fatalf("the values have changed to %v", values)
		}
	})
}

func BenchmarkProjectAYearAndAHalfOfThousandPaths(b *testing.B) {
	p := &Problem{
		AsOf: asOf, Horizon: 600, Burn: steady{perPath(1000, func(s int) float64 { return 100 + float64(s*7919%1000)/10 }), 640},
		Stock: perPath(1000, func(s int) float64 { return 20_000 + float64(s*104_729%1000) }), Reserve: Reserve{Days: 30},
	}
	for b.Loop() {
		p.Project(7)
	}
}
