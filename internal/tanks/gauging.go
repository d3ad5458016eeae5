package tanks

import "overwinter/internal/units"

// Reading is one gauging as taken. It has either a depth or a volume; the water may be given as a
// depth or as a volume, and stays out when there is none or when it was not sought. A precision is one
// standard deviation; 0 means the stated default.
type Reading struct {
	Depth           *units.Millimetres // innage: from the bottom up to the surface
	Water           *units.Millimetres // depth of the water under the fuel
	Volume          *units.Litres      // all liquid, read off a sight gauge or a remote gauge
	WaterVolume     *units.Litres      // volume of the water under the fuel
	Temperature     *units.Celsius     // of the fuel, not of the air
	DepthPrecision  units.Millimetres  // of both depths; default [DipPrecision]
	VolumePrecision units.Litres       // of both volumes; default [VolumeReadingPrecision] of the capacity
}

// Content is what a tank was found to hold.
type Content struct {
	Observed           units.Litres     // all liquid, water included
	Water              units.Litres     // free water under the fuel
	Usable             units.Litres     // above the higher of the water and the suction level
	UsableAt15         units.LitresAt15 // the same, at 15 °C
	Below              units.LitresAt15 // fuel, not water, below the suction level, at 15 °C
	Sigma              units.LitresAt15 // standard uncertainty of UsableAt15
	Temperature        units.Celsius    // of the fuel, as used
	TemperatureAssumed bool             // no temperature was read: the basis of the volume is unknown
}

// Measure turns a gauging into usable fuel at 15 °C with its standard uncertainty. When the reading has no
// temperature the assumed one is used, and the content says so.
//
// It refuses, naming the field: neither or both of depth and volume, a depth above the tank or a volume
// above its capacity, more water than liquid, a depth in a tank known by its capacity only, anything negative or
// not a number, and a temperature outside the range of the factor.
func (t Tank) Measure(r Reading, c Corrector, assumed units.Celsius) (Content, error) {
	if err := t.Validate(); err != nil {
		return Content{}, err
	}
	found, err := t.levels(r)
	if err != nil {
		return Content{}, err
	}
	temperature, sigmaC := assumed, AssumedTemperaturePrecision
	if r.Temperature != nil {
		temperature, sigmaC = *r.Temperature, TemperaturePrecision
	}
	vcf, err := c.VCF(temperature)
	if err != nil {
		return Content{}, err
	}
	usable := max(0, found.liquid-max(found.water, t.Suction))
	below := max(0, min(found.liquid, t.Suction)-found.water)
	sigmaL := found.sigmaLiquid
	if found.water > t.Suction {
		sigmaL = rootSum(sigmaL, found.sigmaWater)
	}
	return Content{
		Observed:   found.liquid,
		Water:      found.water,
		Usable:     usable,
		UsableAt15: at15(usable, vcf),
		Below:      at15(below, vcf),
		Sigma: rootSum(
			at15(sigmaL, vcf),
			at15(usable, vcf*TablePrecision),
			at15(usable, c.factorSigma(temperature, sigmaC)),
		),
		Temperature:        temperature,
		TemperatureAssumed: r.Temperature == nil,
	}, nil
}
