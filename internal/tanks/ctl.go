package tanks

import "math"

// Thermal expansion after API MPMS 11.1-2004 (ASTM D1250-04 adjunct, IP 200/04): base 60 °F,
// densities in kg/m³, expansion per °F. The standard works on the temperature scale of 1968, readings
// are on that of 1990.
const (
	// base68F is 60 °F (ITS-90) on the scale of 1968, as the standard prints it.
	base68F = 60.0068749
	// delta60F is the standard's correction of the base for the change of scale, in °F.
	delta60F = 0.01374979547
)

// scaleChange holds the polynomial in t/630 °C by which ITS-90 differs from IPTS-68, from the power 1
// upwards, in °C.
var scaleChange = [8]float64{
	-0.148759, -0.267408, 1.080760, 1.269056, -4.089591, -1.871251, 7.438081, -3.536296,
}

// fahrenheit68 turns °C on the scale of 1990 into °F on that of 1968: the t* of the standard.
func fahrenheit68(t90C float64) float64 {
	tau := t90C / 630
	change := 0.0
	for i := len(scaleChange) - 1; i >= 0; i-- {
		change = (change + scaleChange[i]) * tau
	}
	return 1.8*(t90C-change) + 32
}

// coefficients are those of one group of liquids: expansion per °F = (K0/ρ + K1)/ρ + K2.
type coefficients struct{ k0, k1, k2 float64 }

// expansionAt gives the expansion per °F at a density.
func (k coefficients) expansionAt(density float64) float64 {
	return (k.k0/density+k.k1)/density + k.k2
}

// density68 shifts a density at 60 °F to the base of the scale of 1968: the ρ* of the standard.
func (k coefficients) density68(density60 float64) float64 {
	a := delta60F / 2 * k.expansionAt(density60)
	b := (2*k.k0 + k.k1*density60) / (k.k0 + (k.k1+k.k2*density60)*density60)
	return density60 * (1 + math.Expm1(a*(1+0.8*a))/(1+a*(1+1.6*a)*b))
}

// alpha60 gives the expansion per °F at 60 °F of a liquid with this density at 60 °F.
func (k coefficients) alpha60(density60 float64) float64 {
	return k.expansionAt(k.density68(density60))
}

// ctl is the correction for temperature: volume at 60 °F over volume at t, where t is in °F on the
// scale of 1968.
func ctl(alpha60, t68F float64) float64 {
	dt := t68F - base68F
	return math.Exp(-alpha60 * dt * (1 + 0.8*alpha60*(dt+delta60F)))
}
