package tanks

import (
	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// The temperatures which API MPMS 11.1-2004 covers.
const (
	Coldest units.Celsius = -50
	Hottest units.Celsius = 150
)

// base is the temperature which standard volumes refer to.
const base units.Celsius = 15

// Corrector gives the volume correction factor of one fuel. Prepare it with [NewCorrector]; it is
// a small value, free to copy and to share.
type Corrector struct {
	density15 units.KgPerM3
	class     Class
	density68 float64 // at 60 °F on the scale of 1968
	alpha60   float64 // expansion per °F at 60 °F
	ctl15     float64 // volume at 60 °F / volume at 15 °C
}

// NewCorrector prepares the factor for a fuel with this density at 15 °C. The density is taken as it
// is, unrounded. It refuses a density outside the standard (about 611 to 1164 kg/m³).
func NewCorrector(density15 units.KgPerM3) (Corrector, error) {
	density60, err := density60Of(density15, base)
	if err != nil {
		return Corrector{}, err
	}
	b := bandOf(density60)
	alpha := b.alpha60(density60)
	return Corrector{
		density15: density15,
		class:     b.class,
		density68: b.density68(density60),
		alpha60:   alpha,
		ctl15:     ctl(alpha, fahrenheit68(float64(base))),
	}, nil
}

// Density15 is the density the corrector was made for, at 15 °C.
func (c Corrector) Density15() units.KgPerM3 { return c.density15 }

// Class is the density class whose coefficients are used.
func (c Corrector) Class() Class { return c.class }

// VCF is the volume correction factor: standard volume at 15 °C over observed volume at t, at the
// pressure of the air. It goes through the standard's own base of 60 °F:
// VCF = CTL60(t) / CTL60(15 °C), API MPMS 11.1-2004, section 11.1.6. It refuses a temperature
// outside −50 to 150 °C.
func (c Corrector) VCF(t units.Celsius) (float64, error) {
	if err := c.prepared(); err != nil {
		return 0, err
	}
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	return c.factor(t), nil
}

// prepared refuses the zero Corrector.
func (c Corrector) prepared() error {
	if c.ctl15 == 0 {
		return fault.New(fault.Internal, "the volume correction was used before a density was set")
	}
	return nil
}

// factor is VCF for a temperature already checked.
func (c Corrector) factor(t units.Celsius) float64 {
	return ctl(c.alpha60, fahrenheit68(float64(t))) / c.ctl15
}

// Density15 turns the density of a fuel observed at temperature t into its density at 15 °C, as a
// digital densitometer's reading is (a glass hydrometer's own expansion is not taken off). It refuses
// a temperature outside −50 to 150 °C and a density which no fuel of the standard has at t.
func Density15(observed units.KgPerM3, t units.Celsius) (units.KgPerM3, error) {
	density60, err := density60Of(observed, t)
	if err != nil {
		return 0, err
	}
	return units.KgPerM3(densityAt(density60, fahrenheit68(float64(base)))), nil
}

// density60Of finds the density at 60 °F of a fuel that has the observed density at t.
//
// Density at t rises with density at 60 °F, save for small steps where one class gives way to the
// next. Halving the whole range needs no slope and no change of class on the way, and where an
// observed density falls into a step, which no fuel has, it ends at the bound.
func density60Of(observed units.KgPerM3, t units.Celsius) (float64, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	t68F := fahrenheit68(float64(t))
	low, high := lightest60, heaviest60
	lightest, heaviest := densityAt(low, t68F), densityAt(high, t68F)
	if !(float64(observed) >= lightest && float64(observed) <= heaviest) {
		return 0, invalid("the density cannot be used", "density",
			"%s kg/m³ at %s °C is outside the range of the volume correction: expected %.1f to %.1f kg/m³",
			plain(observed), plain(t), lightest, heaviest)
	}
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return low, nil
		}
		if densityAt(middle, t68F) <= float64(observed) {
			low = middle
		} else {
			high = middle
		}
	}
}

// densityAt gives the density at t of a fuel with this density at 60 °F.
func densityAt(density60, t68F float64) float64 {
	return density60 * ctl(bandOf(density60).alpha60(density60), t68F)
}

func checkTemperature(t units.Celsius) error {
	if t >= Coldest && t <= Hottest {
		return nil
	}
	return invalid("the temperature cannot be used", "temperature",
		"%s °C is outside the range of the volume correction: expected %s to %s °C",
		plain(t), plain(Coldest), plain(Hottest))
}
