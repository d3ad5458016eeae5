package tanks

import (
	"math"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// The temperatures which API MPMS 11.1-2004 covers. The printed tables of 1980 begin at −18 °C (from memory); their
// equations are used as far as these limits, as Measurement Canada's tables do down to −40 °C.
const (
	Coldest units.Celsius = -50
	Hottest units.Celsius = 150
)

// Corrector corrects the volume of one fuel by one [Procedure]. Prepare it with [NewCorrector], or with
// [Procedure.AtBase] or [Procedure.Observed]; it is a small value, free to copy and to share.
type Corrector struct {
	procedure Procedure
	class     Class
	scale     scale
	density   float64 // at the base of the procedure
	entered   float64 // at the own base of the law, as its equations are entered: ρ* in the edition of 2004
	alpha     float64 // expansion per degree at that base
	toBase    float64 // logarithm of the volume at the own base over the volume at the procedure's
}

// NewCorrector prepares the correction to 15 °C of a refined product with this density at 15 °C, by the
// edition of 2004 and unrounded: the zero [Procedure]. It refuses a density outside the standard (611.2 to
// 1163.8 kg/m³).
func NewCorrector(density15 units.KgPerM3) (Corrector, error) {
	return Procedure{}.AtBase(density15)
}

// Procedure is the record of the rules that every figure of the corrector follows.
func (c Corrector) Procedure() Procedure { return c.procedure }

// Class is the density class whose coefficients are used.
func (c Corrector) Class() Class { return c.class }

// VCF is the volume correction factor: standard volume, at the base of the procedure, over observed
// volume at t, at the pressure of the air. In the edition of 2004 it goes through the standard's own base
// of 60 °F: VCF(15 °C) = CTL60(t) / CTL60(15 °C), API MPMS 11.1-2004, section 11.1.6. At the base it is 1 (to
// within 3e-11 at 60 °F, where the standard prints its constant to seven decimals). It falls
// with temperature. It refuses a temperature outside −50 to 150 °C.
func (c Corrector) VCF(t units.Celsius) (float64, error) {
	if err := c.usable(t); err != nil {
		return 0, err
	}
	return c.factor(t), nil
}

// CPL is the correction for pressure: volume at the pressure of the air over volume at t and a pressure
// above it. In a tank it is exactly 1; on the line of a transfer pump it is within 0.06 % of 1 up
// to 700 kPa, which is why metered volumes are not corrected for it. Source: API MPMS 11.1-2004, section
// 11.1.6, and for the tables of 1980 to 60 °F its forerunner 11.2.1 (1984); to 15 and 20 °C, 11.2.1M (1984,
// from memory). It refuses a temperature outside −50 to 150 °C and a pressure above 10 342 kPa; one below
// that of the air counts as that of the air.
func (c Corrector) CPL(t units.Celsius, gauge units.KiloPascals) (float64, error) {
	if err := c.usable(t); err != nil {
		return 0, err
	}
	if err := checkPressure(gauge); err != nil {
		return 0, err
	}
	return c.procedure.roundFactor(c.pressed(t, gauge)), nil
}

// CTPL corrects for both at once: standard volume over volume at t and a gauge pressure. It is VCF times
// CPL, rounded, where rounding is asked for, only after they are multiplied.
func (c Corrector) CTPL(t units.Celsius, gauge units.KiloPascals) (float64, error) {
	if err := c.usable(t); err != nil {
		return 0, err
	}
	if err := checkPressure(gauge); err != nil {
		return 0, err
	}
	return c.procedure.roundFactor(c.exact(c.procedure.roundTemperature(t)) * c.pressed(t, gauge)), nil
}

// Density is the density in kg/m³ at another base, at the pressure of the air.
func (c Corrector) Density(b Base) units.KgPerM3 {
	return c.procedure.roundDensity(units.KgPerM3(c.densityAt(b)))
}

// Density15 is the density in kg/m³ at 15 °C.
func (c Corrector) Density15() units.KgPerM3 { return c.Density(Base15C) }

// DensityAt is the density in kg/m³ at a temperature and a gauge pressure: density at the base times
// CTPL, unrounded. It refuses what CPL refuses.
func (c Corrector) DensityAt(t units.Celsius, gauge units.KiloPascals) (units.KgPerM3, error) {
	if err := c.usable(t); err != nil {
		return 0, err
	}
	if err := checkPressure(gauge); err != nil {
		return 0, err
	}
	return units.KgPerM3(c.density * c.exact(t) * c.pressed(t, gauge)), nil
}

// At prepares the same fuel for another base. In the edition of 1980 this goes from one table to
// another, which each have equations of their own: then one litre may weigh 2e-5 more by way of one base than by
// way of another, and 3e-4 in the transition class and next to it, where the tables' classes differ (computed).
// It refuses a density outside the other table.
func (c Corrector) At(b Base) (Corrector, error) {
	if c.density == 0 {
		return Corrector{}, errUnset
	}
	if b == c.procedure.Base {
		return c, nil
	}
	p := c.procedure
	p.Base = b
	if p.Edition == Edition2004 && !p.Rounded { // one law for every base
		c.density, c.toBase, c.procedure = c.densityAt(b), c.logTo(b), p
		return c, p.check()
	}
	return p.AtBase(units.KgPerM3(c.densityAt(b)))
}

// densityAt is Density unrounded.
func (c Corrector) densityAt(b Base) float64 {
	if b == c.procedure.Base {
		return c.density
	}
	return c.density * math.Exp(c.logTo(b)-c.toBase)
}

// logTo gives the logarithm of the volume at the own base of the law over the volume at another base.
func (c Corrector) logTo(b Base) float64 {
	if b == c.scale.base() {
		return 0
	}
	return c.scale.expansion(c.alpha, c.scale.degrees(float64(b.Temperature())))
}

// exact is the factor to the base, unrounded, for a temperature already checked.
func (c *Corrector) exact(t units.Celsius) float64 {
	return math.Exp(c.scale.expansion(c.alpha, c.scale.degrees(float64(t))) - c.toBase)
}

// factor is VCF for a temperature already checked.
func (c *Corrector) factor(t units.Celsius) float64 {
	if c.procedure.Rounded {
		return c.procedure.roundFactor(c.exact(c.procedure.roundTemperature(t)))
	}
	return c.exact(t)
}

// pressed is CPL, its result unrounded, for a temperature and a pressure already checked.
func (c *Corrector) pressed(t units.Celsius, gauge units.KiloPascals) float64 {
	pressure := c.scale.pressure(c.procedure.roundPressure(gauge))
	if pressure <= 0 {
		return 1
	}
	q := c.scale.squeeze()
	return q.cpl(q.factor(c.entered, c.scale.degrees(float64(c.procedure.roundTemperature(t)))), pressure)
}

var errUnset = fault.New(fault.Internal, "the volume correction was used before a density was set")

// usable refuses the zero Corrector and a temperature out of range.
func (c *Corrector) usable(t units.Celsius) error {
	if t >= Coldest && t <= Hottest && c.density > 0 {
		return nil
	}
	if c.density == 0 {
		return errUnset
	}
	return checkTemperature(t)
}

func checkTemperature(t units.Celsius) error {
	if t >= Coldest && t <= Hottest {
		return nil
	}
	return invalid("the temperature cannot be used", "temperature",
		"%s °C is outside the range of the volume correction: expected %s to %s °C",
		plain(t), plain(Coldest), plain(Hottest))
}
