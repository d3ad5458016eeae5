package tanks

// scale is the unit and the temperature scale in which a law is written, and with them its own base.
type scale uint8

const (
	scale68F scale = iota // 2004: °F on the scale of 1968, from 60 °F
	scaleF                // 1980: °F, from 60 °F
	scaleC                // 1980: °C, from 15 °C
)

// base is the base that the law itself is written for.
func (s scale) base() Base {
	if s == scaleC {
		return Base15C
	}
	return Base60F
}

// Thermal expansion after API MPMS 11.1-2004 (ASTM D1250-04 adjunct, IP 200/04): base 60 °F,
// densities in kg/m³, expansion per °F. The standard works on the temperature scale of 1968, readings
// are on that of 1990.
const (
	// base68F is 60 °F (ITS-90) on the scale of 1968, as the standard prints it.
	base68F = 60.0068749
	// delta60F is the standard's correction of the base for the change of scale, in °F.
	delta60F = 0.01374979547
)

// The polynomial in t/630 °C by which ITS-90 differs from IPTS-68, in °C: its coefficients for the
// powers 1 to 8, over the powers of 630.
const (
	scale1 = -0.148759 / 630
	scale2 = -0.267408 / (630 * 630)
	scale3 = 1.080760 / (630 * 630 * 630)
	scale4 = 1.269056 / (630 * 630 * 630 * 630)
	scale5 = -4.089591 / (630 * 630 * 630 * 630 * 630)
	scale6 = -1.871251 / (630 * 630 * 630 * 630 * 630 * 630)
	scale7 = 7.438081 / (630 * 630 * 630 * 630 * 630 * 630 * 630)
	scale8 = -3.536296 / (630 * 630 * 630 * 630 * 630 * 630 * 630 * 630)
)

// fahrenheit68 turns °C on the scale of 1990 into °F on that of 1968: the t* of the standard. The
// polynomial is added up by halves, which a processor does at once.
func fahrenheit68(t float64) float64 {
	t2 := t * t
	change := t * ((scale1 + scale2*t + (scale3+scale4*t)*t2) + t2*t2*(scale5+scale6*t+(scale7+scale8*t)*t2))
	return 1.8*(t-change) + 32
}

// degrees gives a temperature as a law wants it.
func (s scale) degrees(tC float64) float64 {
	switch s {
	case scale68F:
		return fahrenheit68(tC)
	case scaleF:
		return 1.8*tC + 32
	}
	return tC
}

// expansion gives the logarithm of the volume at the law's own base over the volume at a temperature, for
// an expansion per degree at that base: −α·ΔT·[1 + 0.8·α·(ΔT + δ)].
func (s scale) expansion(alpha, degrees float64) float64 {
	switch s {
	case scale68F:
		dt := degrees - base68F
		return -alpha * dt * (1 + 0.8*alpha*(dt+delta60F))
	case scaleF:
		degrees -= 60
	default:
		degrees -= 15
	}
	return -alpha * degrees * (1 + 0.8*alpha*degrees)
}

// coefficients are those of one class of liquids: expansion per degree = (K0/ρ + K1)/ρ + K2.
type coefficients struct{ k0, k1, k2 float64 }

// expansionAt gives the expansion per degree at a density, and how much faster, in ratio, it falls than
// the density rises: −dln α/dln ρ, which is (2·K0 + K1·ρ)/(K0 + (K1 + K2·ρ)·ρ).
func (k coefficients) expansionAt(density float64) (alpha, steepness float64) {
	inverse := 1 / density
	alpha = (k.k0*inverse+k.k1)*inverse + k.k2
	return alpha, (2*k.k0*inverse + k.k1) * inverse / alpha
}

// density68 shifts a density at 60 °F to the base of the scale of 1968: the ρ* of the standard. Its
// exponent is below 1e-5, where three terms of the series of e^x − 1 are exact to the last digit.
func (k coefficients) density68(density60 float64) float64 {
	alpha, steepness := k.expansionAt(density60)
	a := delta60F / 2 * alpha
	x := a * (1 + 0.8*a)
	return density60 * (1 + x*(1+x*(1./2+x/6))/(1+a*(1+1.6*a)*steepness))
}

// inScale gives the density that a law's equations are entered with: ρ* in the edition of 2004.
func (s scale) inScale(k coefficients, density float64) float64 {
	if s == scale68F {
		return k.density68(density)
	}
	return density
}
