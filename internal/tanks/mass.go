package tanks

import "overwinter/internal/units"

// Kilograms is a mass, or what a balance in air shows for it.
type Kilograms float64

// Exact definitions: the international pound, the tonne and the long ton of 2,240 lb.
const (
	KilogramsPerPound   Kilograms = 0.45359237
	KilogramsPerTonne   Kilograms = 1000
	KilogramsPerLongTon Kilograms = 2240 * KilogramsPerPound
)

// AirRule is how the lift of the air is taken off a mass.
type AirRule string

// The rules. Both take density and volume at the base.
const (
	// AirExact is (ρ − 1.2)/(1 − 1.2/8000) kg/m³: air of 1.2 kg/m³, weights of 8000 kg/m³, the convention of OIML D 28. API
	// MPMS 11.5.3 has 1.000149926·ρ − 1.199407795, which is the same to 0.001 kg/m³.
	AirExact AirRule = "OIML D 28"
	// AirLess1100 is the density less 1.1 kg/m³, "less 0.0011" on a bunker ticket, in place of Table 56. Between 800 and
	// 880 kg/m³ it is within 0.03 kg/m³ of the exact form (computed).
	AirLess1100 AirRule = "density less 1.1 kg/m³"
)

// Mass is the mass of a quantity of fuel, and what it weighs.
type Mass struct {
	InVacuo Kilograms // the mass itself
	InAir   Kilograms // what a balance shows, which a delivery is invoiced by
}

// The air and the weights of the convention, in kg/m³.
const (
	airDensity     units.KgPerM3 = 1.2
	weightsDensity units.KgPerM3 = 8000
	shortLift      units.KgPerM3 = 1.1
)

// InAir is the density in air, in kg/m³: the weight in air of a cubic metre at the base at which the density holds. A
// blank rule is [AirExact]. It refuses a rule that there is not, and a density outside 600 to 1200 kg/m³.
func (a AirRule) InAir(density units.KgPerM3) (units.KgPerM3, error) {
	const what = "the mass in air cannot be told"
	if !(density >= 600 && density <= 1200) {
		return 0, invalid(what, "density", "%s kg/m³: expected 600 to 1200 kg/m³", plain(density))
	}
	switch a {
	case AirExact, "":
		return (density - airDensity) / (1 - airDensity/weightsDensity), nil
	case AirLess1100:
		return density - shortLift, nil
	}
	return 0, invalid(what, "air rule", "%q is not known: expected %q or %q", string(a), string(AirExact), string(AirLess1100))
}

// massOf gives the mass of a standard volume whose density at its base, in vacuo and in air, is known.
func massOf(v LitresAtBase, density, inAir units.KgPerM3) Mass {
	cubicMetres := float64(v) / 1000
	return Mass{Kilograms(cubicMetres * float64(density)), Kilograms(cubicMetres * float64(inAir))}
}
