package tanks

import (
	"math"

	"overwinter/internal/units"
)

// Reading is one gauging as taken. The liquid is given once: as a depth, as an ullage or as a volume. So is the
// water, which stays out when there is none or when it was not sought. A precision is one standard deviation; 0
// means that of the gauge.
type Reading struct {
	Gauge       Gauge              // the instrument; blank is not said
	Depth       *units.Millimetres // innage: from the bottom up to the surface
	Ullage      *units.Millimetres // from the reference point down to the surface
	Volume      *units.Litres      // all liquid, read off a sight gauge or a remote gauge
	Water       *units.Millimetres // depth of the water under the fuel
	WaterUllage *units.Millimetres // from the reference point down to the water
	WaterVolume *units.Litres      // volume of the water under the fuel
	// ReferenceHeight is the height of the reference point above the bottom as found this time. It is compared with
	// that of the tank; an ullage is counted from it only where the tank states none.
	ReferenceHeight *units.Millimetres
	Temperature     *units.Celsius  // of the fuel, not of the air
	Temperatures    []units.Celsius // of the fuel at several levels, instead of one; each counts alike
	Air             *units.Celsius  // round the tank: used for the shell and for nothing else
	// WhileFilling says that fuel was coming in, or being drawn hard, as the tank was gauged.
	WhileFilling    bool
	DepthPrecision  units.Millimetres // of depths and ullages; default [Gauge.DepthPrecision]
	VolumePrecision units.Litres      // of both volumes; default [Gauge.VolumePrecision]
}

// Content is what a tank was found to hold.
type Content struct {
	Observed           units.Litres     // all liquid, water included
	Water              units.Litres     // free water under the fuel
	Usable             units.Litres     // above the higher of the water and the suction level
	UsableAt15         units.LitresAt15 // the same, at 15 °C
	Below              units.LitresAt15 // fuel, not water, below the suction level, at 15 °C
	Sigma              units.LitresAt15 // standard uncertainty of UsableAt15
	FuelSigma          units.LitresAt15 // standard uncertainty of all fuel, UsableAt15 and Below together
	FuelReadingSigma   units.LitresAt15 // the part of FuelSigma that comes from reading the levels
	FuelWarmthSigma    units.LitresAt15 // the part of FuelSigma that comes from the fuel's temperature
	Temperature        units.Celsius    // of the fuel, as used
	TemperatureSigma   units.Celsius    // its standard uncertainty: see [Tank.Measure]
	TemperatureAssumed bool             // no temperature was read: the basis of the volume is unknown
	// WhileFilling is that of the reading. Such a content may be shown as stock; a balance must not be made with it,
	// since the surface heaves and the moment at which it was read is not the moment of the meters.
	WhileFilling bool
	// ReferenceOff is the reference height found less that of the tank, nil when they were not both known. Beyond a
	// few millimetres the bottom is silted or sags, or the hatch has moved, and depths and ullages no longer agree.
	ReferenceOff *units.Millimetres
}

// Measure turns a gauging into usable fuel at 15 °C with its standard uncertainty. When the reading has no
// temperature the assumed one is used, and the content says so.
//
// The temperature's standard uncertainty is [TemperaturePrecision], of several temperatures combined with s/√n, where s is
// the standard deviation of the n readings (GUM, JCGM 100, section 4.2.3); of an assumed one it is
// [AssumedTemperaturePrecision].
//
// It refuses, naming the field: liquid or water given not at all or twice, a depth above the tank or a volume
// above its capacity, more water than liquid, a depth or an ullage in a tank known by its capacity only, an ullage
// without a reference height or longer than it, a gauge that there is not, anything negative or not a number, and a
// temperature outside the range of the factor.
func (t Tank) Measure(r Reading, c Corrector, assumed units.Celsius) (Content, error) {
	g, err := t.gauge(&r, &c, assumed)
	if err != nil {
		return Content{}, err
	}
	usable, fuel := g.effects()
	return Content{
		Observed:           g.liquid,
		Water:              g.water,
		Usable:             g.usable(),
		UsableAt15:         at15(g.usable(), g.vcf),
		Below:              at15(g.below(), g.vcf),
		Sigma:              usable.sigma(),
		FuelSigma:          fuel.sigma(),
		FuelReadingSigma:   units.LitresAt15(rootSum(fuel[ofLiquid], fuel[ofWater])),
		FuelWarmthSigma:    units.LitresAt15(math.Abs(fuel[ofTemperature])),
		Temperature:        g.temperature,
		TemperatureSigma:   g.warmth.sigma,
		TemperatureAssumed: g.assumed,
		WhileFilling:       r.WhileFilling,
		ReferenceOff:       t.referenceOff(&r),
	}, nil
}
