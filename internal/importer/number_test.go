package importer

import (
	"testing"

	"overwinter/internal/units"
)

func TestOneDepthInTwoUnitsIsOneNumber(t *testing.T) {
	inches, err := units.Length.Scale("in")
	if err != nil {
		t.Fatal(err)
	}
	for written, want := range map[float64]float64{83.32: 2116.328, 95.23: 2418.842, 47.25: 1200.15} {
		if got := tidy(inches, written); got != want {
			t.Errorf("%v in is %.17g mm, want %v", written, got, want)
		}
	}
}
