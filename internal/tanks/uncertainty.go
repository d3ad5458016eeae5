package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Precisions used where a reading states none, each one standard deviation.
const (
	// DipPrecision is that of a manual dip, about the 1/8 in to which tank rules have a stick read
	// (40 CFR 280.43(a)).
	DipPrecision units.Millimetres = 3
	// VolumeReadingPrecision is that of a volume read off a sight gauge or a remote gauge, as
	// a share of the capacity: about one division of a hundred. Common practice, no source.
	VolumeReadingPrecision = 0.01
	// TablePrecision is that of a capacity table or of measured dimensions, as a share of the
	// volume. One error lies on the whole table, so it acts on the volume between two levels and
	// not on each of them. Common practice, no source; for comparison, the French decree of 18 December
	// 1996 on fixed storage tanks (article 18) allows a certified table for liquids other than alcohols 0.4 % either way.
	TablePrecision = 0.005
	// TemperaturePrecision is how well one thermometer reading stands for all fuel in the tank. Common
	// practice, no source.
	TemperaturePrecision units.Celsius = 1
	// AssumedTemperaturePrecision is that of a temperature nobody read, which may be the season's but
	// not the week's. Common practice, no source.
	AssumedTemperaturePrecision units.Celsius = 8
	// DensityPrecision is that of the density a volume is corrected by, where the lot in the tank was not
	// measured: EN 590 allows 820 to 845 kg/m³, and the standard deviation of a value that may lie anywhere
	// between two limits is their distance over √12 (GUM, JCGM 100, section 4.3.7).
	DensityPrecision units.KgPerM3 = 7.2
	// ShellPrecision is that of the linear expansion of a shell whose tank is measured as if it had none, per °C. The
	// expansion lies between 0 and that of mild steel, 11.16e-6 (surveyors' handbooks, online.flippingbook.com/view/520915846,
	// pp. 80-81); counted from 0, the root of the mean square is that over √3. A tank whose depth is read takes up
	// twice as much by its section, from 15 °C on.
	ShellPrecision = 6.44e-6
)

// gauged is one gauging with all that its uncertainty depends on.
type gauged struct {
	levels
	warmth
	vcf       float64 // at the temperature
	ofWarmth  float64 // what one standard deviation of the temperature adds to the factor; below 0
	ofDensity float64 // what one standard deviation of the density adds to the factor
	ofShell   float64 // what one standard deviation of the shell's expansion adds to a volume, as a share
	suction   units.Litres
}

// warmth is the temperature of the fuel as used.
type warmth struct {
	temperature, sigma units.Celsius
	assumed            bool // nobody read it
}

// gauge reads one gauging.
func (t *Tank) gauge(r *Reading, c *Corrector, assumed units.Celsius) (g gauged, err error) {
	if err := t.Validate(); err != nil {
		return g, err
	}
	if g.levels, err = t.levels(r); err != nil {
		return g, err
	}
	if g.warmth, err = r.warmth(assumed); err != nil {
		return g, err
	}
	if g.vcf, err = c.VCF(g.temperature); err != nil {
		return g, err
	}
	g.ofWarmth = c.factorSwing(g.temperature, g.sigma)
	g.ofDensity = g.vcf * c.densitySwing(g.temperature)
	g.ofShell = 2 * ShellPrecision * float64(g.temperature-shellReference)
	g.suction = t.Suction
	return g, nil
}

// shellReference is the temperature for which tables and dimensions are taken to hold.
const shellReference units.Celsius = 15

// usable is the observed volume above the higher of the water and the suction level.
func (g *gauged) usable() units.Litres { return max(0, g.liquid-max(g.water, g.suction)) }

// below is the observed volume of fuel under the suction level.
func (g *gauged) below() units.Litres { return max(0, min(g.liquid, g.suction)-g.water) }

// The sources of uncertainty, in the order in which they are told.
const (
	ofLiquid = iota
	ofWater
	ofTable
	ofTemperature
	ofDensity
	ofShell
	sources
)

// effects are what one standard deviation of each source adds to a volume, in litres at 15 °C with their sign.
type effects [sources]float64

// effects are those on the usable stock and those on all fuel.
func (g *gauged) effects() (usable, fuel effects) {
	above, below := g.liquidRead.sampled(), g.waterRead.sampled()
	byLiquid, byWater := g.spread(above, below, g.suction)
	usable = g.effectsOn(g.usable(), byLiquid, byWater)
	byLiquid, byWater = g.spread(above, below, 0)
	return usable, g.effectsOn(g.usable()+g.below(), byLiquid, byWater)
}

// effectsOn are those on an observed volume with the deviations which the readings give it.
func (g *gauged) effectsOn(observed units.Litres, byLiquid, byWater float64) effects {
	v := float64(observed)
	return effects{
		ofLiquid:      byLiquid * g.vcf,
		ofWater:       -byWater * g.vcf,
		ofTable:       v * g.vcf * TablePrecision,
		ofTemperature: v * g.ofWarmth,
		ofDensity:     v * g.ofDensity,
		ofShell:       v * g.vcf * g.ofShell,
	}
}

// sigma combines independent sources: the root of the sum of their squares (GUM, JCGM 100, section 5.1.2).
func (e *effects) sigma() units.LitresAt15 { return units.LitresAt15(rootSum(e[:]...)) }

// FactorSigma is the standard uncertainty of the factor at a temperature, 1, that is known to a standard deviation of sigma.
func (c *Corrector) FactorSigma(t, sigma units.Celsius) float64 {
	return math.Abs(c.factorSwing(t, sigma))
}

// factorSwing is what one standard deviation of the temperature adds to the factor: the mean slope of the factor across one
// standard deviation to either side, cut off at the ends of its range, times sigma. It is negative.
func (c *Corrector) factorSwing(t, sigma units.Celsius) float64 {
	from, to := max(Coldest, t-sigma), min(Hottest, t+sigma)
	if !(from < to) {
		return 0
	}
	return (c.factor(to) - c.factor(from)) / float64(to-from) * float64(sigma)
}

// densitySwing is what one standard deviation of the density adds to the factor, as a share of it: half the difference
// between the factors of fuels heavier and lighter by as much. It is 0 for a special application, whose expansion
// was measured.
func (c *Corrector) densitySwing(t units.Celsius) float64 {
	if c.procedure.Group == Special {
		return 0
	}
	law := c.procedure.law()
	at, base := c.scale.degrees(float64(t)), c.scale.degrees(float64(c.procedure.Base.Temperature()))
	logFactor := func(density float64) float64 {
		alpha, _ := law.bandOf(density).expansionAt(density)
		return c.scale.expansion(alpha, at) - c.scale.expansion(alpha, base)
	}
	const off = float64(DensityPrecision)
	return (logFactor(c.entered+off) - logFactor(c.entered-off)) / 2
}

// rootSum is the root of the sum of the squares.
func rootSum[L ~float64](parts ...L) L {
	sum := 0.0
	for _, p := range parts {
		sum += float64(p * p)
	}
	return L(math.Sqrt(sum))
}
