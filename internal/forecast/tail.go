package forecast

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// tailPoints is in how many scales the tail of Student's distribution is kept.
const tailPoints = 8

// tailScales gives scales, equally probable, whose mixture of normal distributions is Student's with the
// given freedom and scale: a normal variable over the root of an independent χ²/freedom, taken at the middles of
// equal parts of its distribution. The farthest tail is cut off: with a freedom of 5 the 97.5 % quantile comes out 3 %
// too near and the 99 % quantile 5 %.
func tailScales(scale, freedom float64) []float64 {
	scales := make([]float64, tailPoints)
	square := distuv.ChiSquared{K: freedom}
	for i := range scales {
		scales[i] = scale / math.Sqrt(square.Quantile((float64(tailPoints-i)-0.5)/tailPoints)/freedom)
	}
	return scales
}
