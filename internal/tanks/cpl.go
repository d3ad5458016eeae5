package tanks

import (
	"math"

	"overwinter/internal/units"
)

// The gauge pressures that the standards cover. Below that of the air counts as that of the air; below a
// vacuum there is none.
const (
	MostPressure units.KiloPascals = 1500 * units.KiloPascalsPerPSI // 10 342 kPa
	vacuum       units.KiloPascals = -101.325
)

// squeeze holds the coefficients of one law of compressibility, F = e^(a + b·t + (c + d·t)/ρ²), in 1e-5
// per psi or 1e-6 per kPa.
type squeeze struct{ a, b, c, d, unit float64 }

// Compressibility after API MPMS 11.1-2004, which took it over from 11.2.1 of 1984; and after the
// metric 11.2.1M of 1984, which goes with tables 53 and 54 (from memory; public programs agree).
var (
	squeezePSI = squeeze{-1.9947, 0.00013427, 793920, 2326, 1e-5}
	squeezeKPa = squeeze{-1.62080, 0.00021592, 870960, 4209.2, 1e-6}
)

func (s scale) squeeze() *squeeze {
	if s == scaleC {
		return &squeezeKPa
	}
	return &squeezePSI
}

// factor gives F at a density and a temperature as the law wants them.
func (q *squeeze) factor(density, degrees float64) float64 {
	return math.Exp(q.a + q.b*degrees + (q.c+q.d*degrees)/(density*density))
}

// cpl is the correction for pressure, 1/(1 − F·P): volume at the pressure of the air over volume at P.
func (q *squeeze) cpl(factor, pressure float64) float64 {
	return 1 / (1 - q.unit*factor*pressure)
}

// pressure gives a gauge pressure as the law wants it.
func (s scale) pressure(gauge units.KiloPascals) float64 {
	gauge = max(gauge, 0)
	if s == scaleC {
		return float64(gauge)
	}
	return float64(gauge) / units.KiloPascalsPerPSI
}

func checkPressure(gauge units.KiloPascals) error {
	if gauge >= vacuum && gauge <= MostPressure {
		return nil
	}
	return invalid("the pressure cannot be used", "pressure",
		"%s kPa above the air is outside the range of the volume correction: expected %s to %.0f kPa",
		plain(gauge), plain(vacuum), math.Floor(float64(MostPressure)))
}
