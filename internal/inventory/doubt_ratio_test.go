package inventory

import (
	"testing"
)

// A US gallon has 3.785411784 L.
func TestTheCauseOfARatioIsTheClosestWithinTheTolerance(t *testing.T) {
	for _, tt := range []struct {
		ratio, tolerance float64
		want             Cause
	}{
		{3.785, 0.25, UnitsSwitched}, {1 / 3.785, 0.25, UnitsSwitched}, {10, 0.25, DigitAdded}, {0.1, 0.25, DigitDropped},
		{4.7, 0.25, UnitsSwitched}, {4.8, 0.25, ""}, {3.05, 0.25, UnitsSwitched}, {3.0, 0.25, ""}, {4.0, 0.05, ""}, {1, 0.25, ""}, {12.4, 0.25, DigitAdded}, {12.6, 0.25, ""},
	} {
		if got := closestCause(tt.ratio, volumeRatios, tt.tolerance); got != tt.want {
			t.Errorf("%v within %v: %q, want %q", tt.ratio, tt.tolerance, got, tt.want)
		}
	}
	// Against dips an imperial gallon (4.54609 L) is told from a US one: both are UnitsSwitched, and so is the one for the other.
	for _, ratio := range []float64{4.54609, 1 / 4.54609, 1.20095, 1 / 1.20095} {
		if got := closestCause(ratio, deliveryRatios, 0.01); got != UnitsSwitched {
			t.Errorf("%v against dips: %q", ratio, got)
		}
	}
}
