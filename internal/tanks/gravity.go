package tanks

import "overwinter/internal/units"

// APIGravity is a density at 60 °F in degrees API: 141.5 / relative density − 131.5.
type APIGravity float64

// RelativeDensity is a density at 60 °F over that of water at 60 °F.
type RelativeDensity float64

// Water60 is the density of water at 60 °F, in kg/m³, by which an edition defines relative density: 999.016
// in that of 2004, with which alone its examples come out to twelve digits; 999.012 in that of 1980.
func (e Edition) Water60() units.KgPerM3 {
	if e == Edition1980 {
		return 999.012
	}
	return 999.016
}

// APIGravity gives the gravity of a density at 60 °F, kg/m³.
func (e Edition) APIGravity(density60 units.KgPerM3) APIGravity {
	return APIGravity(141.5*float64(e.Water60()/density60) - 131.5)
}

// RelativeDensity gives the relative density of a density at 60 °F, kg/m³.
func (e Edition) RelativeDensity(density60 units.KgPerM3) RelativeDensity {
	return RelativeDensity(density60 / e.Water60())
}

// Density60 gives the density at 60 °F, kg/m³, of a gravity. At −131.5 °API and below there is none: what
// comes out is no positive finite number, and every use of it is refused.
func (g APIGravity) Density60(e Edition) units.KgPerM3 {
	return e.Water60() * units.KgPerM3(141.5/(float64(g)+131.5))
}

// Density60 gives the density at 60 °F, kg/m³, of a relative density.
func (r RelativeDensity) Density60(e Edition) units.KgPerM3 {
	return e.Water60() * units.KgPerM3(r)
}

// APIGravity is the gravity of the fuel; to 0.1 °API where rounding is asked for.
func (c Corrector) APIGravity() APIGravity {
	g := c.procedure.Edition.APIGravity(units.KgPerM3(c.densityAt(Base60F)))
	if c.procedure.Rounded {
		return APIGravity(nearest(float64(g), 10))
	}
	return g
}

// RelativeDensity is the relative density of the fuel; to 0.0001 where rounding is asked for.
func (c Corrector) RelativeDensity() RelativeDensity {
	r := c.procedure.Edition.RelativeDensity(units.KgPerM3(c.densityAt(Base60F)))
	if c.procedure.Rounded {
		return RelativeDensity(nearest(float64(r), 10_000))
	}
	return r
}
