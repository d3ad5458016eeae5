package tanks

import (
	"math"

	"overwinter/internal/units"
)

// AtBase prepares the correction of a fuel whose density at the base of the procedure is known, in
// kg/m³. It refuses a procedure that does not hold together and a density outside the standard: 610.6 to 1163.5
// kg/m³ at 60 °F in the edition of 2004 (lubricants from 800.9); in the tables of 1980, 653 to 1075.5 kg/m³ at 15 °C
// for refined products.
func (p Procedure) AtBase(density units.KgPerM3) (Corrector, error) {
	p = p.filled()
	if err := p.check(); err != nil {
		return Corrector{}, err
	}
	return p.enter(p.law(), float64(density))
}

// Observed prepares the correction of a fuel whose density, in kg/m³, was observed at t and a gauge pressure
// (0 in a tank or a sample). It refuses what AtBase refuses, a temperature outside −50 to 150 °C, a pressure
// above 10 342 kPa, and a density that no fuel of the group has there; the error says the limits.
//
// The density at the base is the root of ρ·CTPL(ρ) = ρ observed, API MPMS 11.1-2004, section 11.1.6.2,
// found by Newton's method inside the class, in at most 60 steps (10 have been enough), to 1e-13 of itself. Inside
// a class the density observed rises with the density at the base, so there is one root. From one
// class to the next the coefficients do not meet exactly. Between −50 and 150 °C the factor jumps there by at
// most 8e-8 and the density observed by 0.0001 kg/m³ in the edition of 2004; by 2.3e-5 and 0.02 kg/m³ in that of
// 1980 (computed). A density that two classes claim goes to the heavier; one that falls between
// them, which no fuel has, is taken as the bound. So a density at the base, observed and brought back, is the
// same to 1e-6 kg/m³, save within 0.01 kg/m³ of a bound (0.03 in the edition of 1980).
//
// Special applications have one exception: above 9,000 kPa and 140 °C, below 620 kg/m³ at 60 °F, the equation
// for pressure makes a lighter liquid denser. There the heavier of two roots is given, or none.
func (p Procedure) Observed(density units.KgPerM3, t units.Celsius, gauge units.KiloPascals) (Corrector, error) {
	p = p.filled()
	if err := p.check(); err != nil {
		return Corrector{}, err
	}
	if err := checkTemperature(t); err != nil {
		return Corrector{}, err
	}
	if err := checkPressure(gauge); err != nil {
		return Corrector{}, err
	}
	reading := float64(p.roundReading(density))
	t, gauge = p.roundTemperature(t), p.roundPressure(gauge)
	if p.Hydrometer {
		reading *= glass(t, p.Base)
	}
	l := p.law()
	own, b, err := l.solve(reading, l.scale.at(t, gauge))
	if err != nil {
		return Corrector{}, err
	}
	c := p.prepare(l, b, own)
	c.density = own * math.Exp(c.toBase)
	if p.Rounded { // the factor table is entered with what the density table prints
		return p.enter(l, p.roundFound(c.density))
	}
	return c, nil
}

// Density15 turns the density of a fuel observed at temperature t into its density at 15 °C, as a
// digital densitometer's reading is (a glass hydrometer's own expansion is not taken off), by the zero
// [Procedure]. It refuses a temperature outside −50 to 150 °C and a density which no fuel of the
// standard has at t.
func Density15(observed units.KgPerM3, t units.Celsius) (units.KgPerM3, error) {
	c, err := Procedure{}.Observed(observed, t, 0)
	return units.KgPerM3(c.density), err
}

// enter prepares a corrector from a density at the base of the procedure.
func (p *Procedure) enter(l *law, density float64) (Corrector, error) {
	entry := float64(p.roundEntry(units.KgPerM3(density)))
	own, b, err := l.own(entry, p.Base)
	if err != nil {
		return Corrector{}, err
	}
	c := p.prepare(l, b, own)
	c.density = density
	return c, nil
}

// prepare makes the corrector of a fuel from its density at the own base of the law, all but the density at the
// base of the procedure.
func (p *Procedure) prepare(l *law, b *band, own float64) Corrector {
	c := Corrector{procedure: *p, class: b.class, scale: l.scale, entered: l.scale.inScale(b.coefficients, own)}
	alpha, _ := b.expansionAt(c.entered)
	c.alpha = p.roundAlpha(alpha)
	c.toBase = c.logTo(p.Base)
	return c
}

// own finds the density at the own base of the law, and the class, of a fuel with this density at a base.
func (l *law) own(density float64, b Base) (float64, *band, error) {
	if b != l.scale.base() {
		return l.solve(density, l.scale.at(b.Temperature(), 0))
	}
	if !(density >= l.lightest() && density <= l.heaviest) {
		return 0, nil, outside(density, b.label(), l.lightest(), l.heaviest)
	}
	return density, l.bandOf(density), nil
}

// outside is the error of a density beyond the limits, which are told rounded inwards.
func outside(density float64, where string, lightest, heaviest float64) error {
	return invalid("the density cannot be used", "density",
		"%s kg/m³ at %s is outside the range of the volume correction: expected %.1f to %.1f kg/m³",
		plain(density), where, math.Ceil(lightest*10)/10, math.Floor(heaviest*10)/10)
}
