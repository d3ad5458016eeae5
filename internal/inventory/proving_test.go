package inventory

import (
	"slices"
	"testing"
	"time"
)

// Proved at 1.02 half-way between two readings a day apart: 100 L count at the mean of 1 and 1.02, the next 100 at 1.02.
// A swap ends what was proved.
func TestAProvingCountsFromItsMomentUntilTheSwap(t *testing.T) {
	rows := Rows{
		Readings: []*MeterReading{reading(at(time.March, 1, 8), 0), reading(at(time.March, 2, 8), 100), reading(at(time.March, 3, 8), 200), reading(at(time.March, 5, 8), 400)},
		Provings: []*Proving{{Plant: "P", Meter: "M", At: at(time.March, 1, 20), Factor: 1.02}},
		Swaps:    []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.March, 3, 8).Add(time.Second), Closing: ptr(200.0), Opening: ptr(200.0)}},
	}
	got, _ := used(t, rows, volumeTank("bulk", Storage, 50_000))
	if !slices.EqualFunc(got, []float64{101, 102, 200}, func(a, b float64) bool { return a-b < 0.001 && b-a < 0.001 }) {
		t.Errorf("got %v", got)
	}
}
