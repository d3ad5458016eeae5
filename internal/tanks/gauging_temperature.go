package tanks

import (
	"math"
	"strconv"

	"overwinter/internal/units"
)

// warmth gives the temperature of the fuel with its standard uncertainty; the assumed one where none was read.
func (r *Reading) warmth(assumed units.Celsius) (warmth, error) {
	switch {
	case r.Temperature == nil && len(r.Temperatures) == 0:
		return warmth{assumed, AssumedTemperaturePrecision, true}, nil
	case len(r.Temperatures) == 0:
		return warmth{*r.Temperature, TemperaturePrecision, false}, nil
	case r.Temperature != nil:
		return warmth{}, invalid(unusable, "temperature",
			"both one temperature and %d at several levels were given: give the one, or the several", len(r.Temperatures))
	}
	for i, one := range r.Temperatures {
		if !(one >= Coldest && one <= Hottest) {
			return warmth{}, invalid(unusable, "temperature "+strconv.Itoa(i+1),
				"%s °C is outside the range of the volume correction: expected %s to %s °C",
				plain(one), plain(Coldest), plain(Hottest))
		}
	}
	mean, ofMean := average(r.Temperatures)
	return warmth{mean, rootSum(TemperaturePrecision, ofMean), false}, nil
}

// average gives the mean of readings and the standard deviation of that mean, s/√n, which one reading does
// not have. Equal readings have exactly their own value as mean, and no deviation.
func average(read []units.Celsius) (mean, ofMean units.Celsius) {
	n := float64(len(read))
	off, squares := 0.0, 0.0
	for _, t := range read {
		x := float64(t - read[0])
		off += x
		squares += x * x
	}
	mean = read[0] + units.Celsius(off/n)
	if len(read) == 1 {
		return mean, 0
	}
	variance := max(0, squares-off*off/n) / (n - 1)
	return mean, units.Celsius(math.Sqrt(variance / n))
}
