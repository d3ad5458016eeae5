package backtest

import (
	"math"
	"testing"
)

// given are paths whose daily litres are written down.
type given [][]float64

func (g given) Count() int { return len(g) }

func (g given) Cumulative(path, day int) (sum float64) {
	for _, litres := range g[path][:day] {
		sum += litres
	}
	return sum
}

// Five paths of four days. Quantiles by definition 7 of Hyndman & Fan, "Sample quantiles in statistical packages",
// The American Statistician 50 (1996): of five values the quartiles are the 2nd, 3rd and 4th, and 0.025 lies a
// tenth of the way from the 1st to the 2nd.
//
//	path   day 1   day 2+3   day 4   days 1 and 4
//	1         10    1+  2      100            110
//	2         20    4+  8       80            100
//	3         30   16+ 32       90            120
//	4         40   64+128       20             60
//	5         50  256+512       10             60
func TestTotalsAreAddedPathByPath(t *testing.T) {
	paths := given{{10, 1, 2, 100}, {20, 4, 8, 80}, {30, 16, 32, 90}, {40, 64, 128, 20}, {50, 256, 512, 10}}
	s := &Series{ID: "A", Intervals: []Interval{
		{Span: span("2020-01-01", "2020-01-02"), Counted: true},
		{Span: span("2020-01-02", "2020-01-04")}, // not counted
		{Span: span("2020-01-04", "2020-01-05"), Counted: true},
	}}
	got := rows(s, paths)
	const low, quarter, half, upper = 0, 5, 10, 15 // indices of 0.025, 0.25, 0.5, 0.75
	for _, tt := range []struct {
		what string
		of   []float64
		want [4]float64
	}{
		{"day 1", got[0].Own, [4]float64{11, 20, 30, 40}},
		{"day 1, cumulative", got[0].Sum, [4]float64{11, 20, 30, 40}},
		{"days 2 and 3", got[1].Own, [4]float64{3 + 0.9, 12, 48, 192}},
		{"days 2 and 3, cumulative: not counted", got[1].Sum, [4]float64{11, 20, 30, 40}},
		{"day 4", got[2].Own, [4]float64{11, 20, 80, 90}},
		// Sorted 60 60 100 110 120. Sums of quantiles would give 22, 40, 110, 130.
		{"day 4, cumulative", got[2].Sum, [4]float64{60, 60, 100, 110}},
	} {
		for i, at := range []int{low, quarter, half, upper} {
			if math.Abs(tt.of[at]-tt.want[i]) > 1e-9 {
				t.Errorf("%s at %v: %v, want %v", tt.what, levels[at], tt.of[at], tt.want[i])
			}
		}
	}
	for i, r := range got {
		if r.Number != i+1 || r.Point != r.Own[half] || r.SumPoint != r.Sum[half] {
			t.Errorf("row %d: number %d, medians %v and %v", i, r.Number, r.Point, r.SumPoint)
		}
	}
}

func TestTheLevelsAreThoseOfTheColumns(t *testing.T) {
	want := []float64{0.025, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 0.975}
	if len(levels) != len(want) {
		t.Fatal(levels)
	}
	for i := range want {
		if levels[i] != want[i] {
			t.Errorf("level %d is %v, want %v", i, levels[i], want[i])
		}
	}
}

func TestAForecastBeyondAllBoundsIsNone(t *testing.T) {
	s := &Series{ID: "A", Intervals: []Interval{{Span: span("2020-01-01", "2020-01-02"), Counted: true}}}
	if !finite(rows(s, given{{1}, {2}})) {
		t.Error("plain totals are called infinite")
	}
	for _, absurd := range []float64{math.Inf(1), math.NaN()} {
		if finite(rows(s, given{{1}, {absurd}})) {
			t.Errorf("%v is called finite", absurd)
		}
	}
}
