package inventory

import (
	"math"

	"overwinter/internal/units"
)

// ratioCause is a cause by which a figure is off by a factor.
type ratioCause struct {
	ratio float64
	cause Cause
}

// ratioTolerance is how far a ratio may lie from that of its cause, as a share. Common practice, no source.
const ratioTolerance = 0.25

// volumeRatios are those of volumes: litres written down as US gallons or the other way round, and a digit.
var volumeRatios = []ratioCause{
	{units.LitresPerUSGallon, UnitsSwitched}, {1 / units.LitresPerUSGallon, UnitsSwitched},
	{10, DigitAdded}, {0.1, DigitDropped},
}

// closestCause gives the cause whose ratio is closest, "" where none is within the tolerance.
func closestCause(ratio float64, among []ratioCause, tolerance float64) Cause {
	best, found := math.Log(1+tolerance), Cause("")
	for _, c := range among {
		if off := math.Abs(math.Log(ratio / c.ratio)); off <= best {
			best, found = off, c.cause
		}
	}
	return found
}
