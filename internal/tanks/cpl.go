package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Compressibility after API MPMS 11.1-2004, in the standard's units: °F on the scale of 1968, kg/m³ at
// 60 °F on the same scale, psi above the pressure of the air.

// mostPSI is the highest pressure that the standard covers, 10 340 kPa.
const mostPSI = 1500

// compressibility gives the Fp of the standard, in 1e-5 per psi.
func compressibility(density68, t68F float64) float64 {
	return math.Exp(-1.9947 + 0.00013427*t68F + (793920+2326*t68F)/(density68*density68))
}

// cpl is the correction for pressure: volume at the pressure of the air over volume at a gauge pressure.
// A pressure below that of the air counts as that of the air.
func cpl(compressibility, gaugePSI float64) float64 {
	return 1 / (1 - 1e-5*compressibility*max(gaugePSI, 0))
}

// CPL is the correction for pressure: volume at the pressure of the air over volume at t and a pressure
// above it, API MPMS 11.1-2004, section 11.1.6. In a tank it is exactly 1; on the line of a transfer pump
// it is within 0.06 % of 1 up to 700 kPa, which is why metered volumes are not corrected for it. It
// refuses a temperature outside −50 to 150 °C and a pressure above 10 340 kPa.
func (c Corrector) CPL(t units.Celsius, gauge units.KiloPascals) (float64, error) {
	if err := c.prepared(); err != nil {
		return 0, err
	}
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	gaugePSI := float64(gauge) / units.KiloPascalsPerPSI
	if !(gaugePSI <= mostPSI) {
		return 0, invalid("the pressure cannot be used", "pressure",
			"%s kPa is outside the range of the volume correction: expected at most %.0f kPa", plain(gauge), mostPSI*units.KiloPascalsPerPSI)
	}
	return cpl(compressibility(c.density68, fahrenheit68(float64(t))), gaugePSI), nil
}
