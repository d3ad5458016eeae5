package resupply

import (
	"testing"
)

// Binomial tail table: the most paths that may violate so that the true risk is at most the target
// with 95 % confidence. Computed once with the exact binomial distribution by other code.
func TestAllowedAgreesWithTheBinomialTable(t *testing.T) {
	risks := []float64{0.01, 0.02, 0.05, 0.10}
	tests := []struct {
		n    int
		want [4]int
	}{
		{200, [4]int{-1, 0, 4, 12}},
		{500, [4]int{1, 4, 16, 38}},
		{1000, [4]int{4, 12, 38, 84}},
		{2000, [4]int{12, 29, 83, 177}},
		{5000, [4]int{38, 83, 224, 464}},
	}
	for _, tt := range tests {
		for i, r := range risks {
			if got := Allowed(tt.n, r); got != tt.want[i] {
				t.Errorf("Allowed(%d, %v) = %d, want %d", tt.n, r, got, tt.want[i])
			}
		}
	}
}

// Ten days 1 to 10: the 10 % point is the first, the median the fifth, the 90 % point the ninth.
func TestQuantileOfDaysIsTheOrderStatistic(t *testing.T) {
	days := []int{10, 9, 8, 7, 6, 5, 4, 3, 2, 1}
	for p, want := range map[float64]int{0.1: 1, 0.5: 5, 0.9: 9} {
		if got := quantile(days, p); got != want {
			t.Errorf("quantile %v is %d, want %d", p, got, want)
		}
	}
	if got := quantile([]int{3, Never, Never}, 0.5); got != Never {
		t.Errorf("median %d, want Never where most paths never get there", got)
	}
}
