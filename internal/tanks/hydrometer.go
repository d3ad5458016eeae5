package tanks

import "overwinter/internal/units"

// HydrometerFactor is what the reading of a soda-lime glass hydrometer at t, in kg/m³ or as a relative
// density, is multiplied by to take off that the glass itself has expanded since the base it was calibrated at:
// 1 − 2.3e-5·(t−base) − 2.0e-8·(t−base)² for 15 and 20 °C; for 60 °F, in °F, 1 − 1.278e-5·(t−60) −
// 6.2e-9·(t−60)². Source: ASTM D1298 for what it is, public implementations of the tables of 1980 for the
// numbers; the Army's Table 5B look-ups come out only with it. It refuses a temperature outside −50 to 150 °C and
// a base that there is not.
func HydrometerFactor(t units.Celsius, calibrated Base) (float64, error) {
	p := Procedure{Base: calibrated}.filled()
	if err := p.check(); err != nil {
		return 0, err
	}
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	return glass(t, p.Base), nil
}

// glass is HydrometerFactor for what is already checked.
func glass(t units.Celsius, calibrated Base) float64 {
	if calibrated == Base60F {
		dt := scaleF.degrees(float64(t)) - 60
		return 1 - (1.278e-5+6.2e-9*dt)*dt
	}
	dt := float64(t - calibrated.Temperature())
	return 1 - (2.3e-5+2.0e-8*dt)*dt
}
