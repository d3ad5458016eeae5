package demo

import (
	"math"
	"math/rand/v2"

	"overwinter/internal/inventory"
)

// meterErrorSD is the standard deviation of a meter's true factor about the stated one. Common practice, no source.
const meterErrorSD = 0.002

// meter is a totalising meter with its own small error.
type meter struct {
	row    *inventory.Meter
	counts float64 // since the first opening, never rolled over
	bias   float64 // true factor / stated factor
}

func newMeter(row *inventory.Meter, opening float64, random *rand.Rand) *meter {
	return &meter{row: row, counts: opening, bias: around(random, 1, meterErrorSD)}
}

// run passes fuel through the meter.
func (m *meter) run(litres15, observed float64) {
	if m.row.Compensated {
		observed = litres15
	}
	factor := m.row.Factor
	if factor == 0 {
		factor = 1
	}
	m.counts += observed / (factor * m.bias) / m.row.LitresPerCount
}

// register is what the meter shows: whole counts, rolled over.
func (m *meter) register() float64 {
	shown := math.Floor(m.counts)
	if m.row.Digits > 0 {
		shown = math.Mod(shown, math.Pow10(m.row.Digits))
	}
	return shown
}

// swap puts another meter in its place.
func (m *meter) swap(opening float64, random *rand.Rand) {
	m.counts, m.bias = opening, around(random, 1, meterErrorSD)
}
