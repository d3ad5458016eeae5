package inventory

import (
	"testing"
)

func TestTheMonthlyScreenIsOnePercentAnd130Gallons(t *testing.T) {
	got := balanceOf(t, directoryOf(volumeTank("bulk", Storage, 50_000)), "diesel-2-s15", march(40_000, 32_400))
	// 1 % of 7 000 L + 130 · 3.785411784 L = 562.1 L, against 600 L.
	if s := got.Screen; !s.Applies || !s.Beyond || !near(float64(s.Limit), 562.10353192) || !near(float64(got.Variance), -600) {
		t.Errorf("%+v, variance %v", s, got.Variance)
	}
}
