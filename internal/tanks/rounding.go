package tanks

import (
	"math"

	"overwinter/internal/units"
)

// FactorDecimals is the number of decimals that factors are printed with: 5 in the edition of 2004, 4 in
// that of 1980.
func (e Edition) FactorDecimals() int {
	if e == Edition1980 {
		return 4
	}
	return 5
}

// DensityDecimals is the number of decimals that densities in kg/m³ are printed with.
func (e Edition) DensityDecimals() int { return 1 }

// nearest rounds to so many steps a unit, halves away from zero.
func nearest(x, perUnit float64) float64 { return math.Round(x*perUnit) / perUnit }

// customary tells of the tables of 1980 that are entered in °API and °F.
func (p *Procedure) customary() bool { return p.Edition == Edition1980 && p.Base == Base60F }

func (p *Procedure) roundReading(density units.KgPerM3) units.KgPerM3 {
	switch {
	case !p.Rounded:
		return density
	case p.customary():
		return p.roundGravity(density, 10)
	case p.Edition == Edition1980:
		return units.KgPerM3(nearest(float64(density), 2))
	}
	return units.KgPerM3(nearest(float64(density), 10))
}

func (p *Procedure) roundEntry(density units.KgPerM3) units.KgPerM3 {
	if p.Rounded && p.customary() {
		return p.roundGravity(density, 2)
	}
	return p.roundReading(density)
}

// roundFound rounds a density as the tables print it.
func (p *Procedure) roundFound(density float64) float64 {
	if p.Rounded && p.customary() {
		return float64(p.roundGravity(units.KgPerM3(density), 10))
	}
	return float64(p.roundDensity(units.KgPerM3(density)))
}

// roundGravity rounds a density by its gravity.
func (p *Procedure) roundGravity(density units.KgPerM3, perDegree float64) units.KgPerM3 {
	g := p.Edition.APIGravity(density)
	return APIGravity(nearest(float64(g), perDegree)).Density60(p.Edition)
}

func (p *Procedure) roundDensity(density units.KgPerM3) units.KgPerM3 {
	if !p.Rounded {
		return density
	}
	return units.KgPerM3(nearest(float64(density), 10))
}

func (p *Procedure) roundTemperature(t units.Celsius) units.Celsius {
	if !p.Rounded {
		return t
	}
	perDegree := map[bool]float64{false: 10, true: 2}[p.Edition == Edition1980]
	if p.Base == Base60F {
		return units.Fahrenheit(nearest(scaleF.degrees(float64(t)), perDegree))
	}
	return units.Celsius(nearest(float64(t), 2*perDegree))
}

func (p *Procedure) roundPressure(gauge units.KiloPascals) units.KiloPascals {
	switch {
	case !p.Rounded:
		return gauge
	case p.Base == Base60F:
		return units.KiloPascals(math.Round(float64(gauge)/units.KiloPascalsPerPSI) * units.KiloPascalsPerPSI)
	}
	return units.KiloPascals(5 * math.Round(float64(gauge)/5))
}

func (p *Procedure) roundAlpha(alpha float64) float64 {
	if p.Rounded && p.Edition == Edition1980 {
		return nearest(alpha, 1e7)
	}
	return alpha
}

func (p *Procedure) roundFactor(factor float64) float64 {
	if !p.Rounded {
		return factor
	}
	return nearest(factor, math.Pow10(p.Edition.FactorDecimals()))
}
