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
	// not on each of them. Common practice, no source.
	TablePrecision = 0.005
	// TemperaturePrecision is how well one thermometer reading stands for all fuel in the tank. Common
	// practice, no source.
	TemperaturePrecision units.Celsius = 1
	// AssumedTemperaturePrecision is that of a temperature nobody read, which may be the season's but
	// not the week's. Common practice, no source.
	AssumedTemperaturePrecision units.Celsius = 8
)

// factorSigma is the standard uncertainty of the volume correction factor which comes from that of the
// temperature. That of the density is left out: 10 kg/m³ amiss move the factor by 1e-4 at 10 °C from
// the base (computed).
func (c Corrector) factorSigma(t, sigma units.Celsius) float64 {
	return swing(c.factor, t, sigma, Coldest, Hottest)
}

// swing is the standard uncertainty of f(x) that follows from that of x: the mean slope of f across
// one standard deviation to either side, cut off at the ends of the range of x, times sigma. Unlike
// the slope at the point itself it sees the kinks of a table.
func swing[X, Y ~float64](f func(X) Y, x, sigma, low, high X) Y {
	from, to := max(low, x-sigma), min(high, x+sigma)
	if from >= to {
		return 0
	}
	slope := float64(f(to)-f(from)) / float64(to-from)
	return Y(math.Abs(slope) * float64(sigma))
}

// rootSum combines independent standard uncertainties: the root of the sum of their squares (GUM,
// JCGM 100, section 5.1).
func rootSum[L ~float64](parts ...L) L {
	sum := 0.0
	for _, p := range parts {
		sum += float64(p * p)
	}
	return L(math.Sqrt(sum))
}
