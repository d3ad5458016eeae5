package forecast

import (
	"math"
	"math/cmplx"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// circleDays is how many days of noise the paths of a simulation share. The second half is the mirror image of the first, so that a
// path would meet its own noise again after 11 years, with the sign changed.
const circleDays = 8192

// newCircle draws days of noise e without beginning or end, on which each path walks from a place of its own: a day of a path then
// costs no random number and no exponential. It gives exp(scale·e) for each scale, with the first block once more behind the last day.
//
// Over all places to begin at, e has mean 0, no skewness and the autocovariances sd²·ρ^h of the autoregression, exactly but for
// those over years: so two paths say nothing of each other. It is a sum of waves with the power of the autoregression's
// spectrum, (1-ρ²)/(1-2ρ·cos ω+ρ²) times the variance (any textbook of time series), and random phases: M. Shinozuka, G. Deodatis,
// "Simulation of stochastic processes by spectral representation", Applied Mechanics Reviews 44 (1991). Each wave goes round
// an odd number of times, which makes the mirror image.
func newCircle(n noise, scales []float64, source *rand.PCG) [][]float64 {
	waves := make([]complex128, circleDays/2+1)
	for k := 1; k < len(waves); k += 2 {
		turn := 2 * math.Pi * float64(k) / circleDays
		spectrum := (1 - n.rho*n.rho) / (1 - 2*n.rho*math.Cos(turn) + n.rho*n.rho)
		waves[k] = cmplx.Rect(n.sd*math.Sqrt(2*spectrum/circleDays), 2*math.Pi*uniform(source))
	}
	e := fourier.NewFFT(circleDays).Sequence(nil, waves)
	factors := make([][]float64, len(scales))
	for i, scale := range scales {
		factors[i] = make([]float64, circleDays+blockDays)
		half, mirror := factors[i][:circleDays/2], factors[i][circleDays/2:circleDays]
		for day := range half {
			half[day] = scale * e[day]
		}
		expAll(half)
		for day, x := range half {
			mirror[day] = 1 / x
		}
		copy(factors[i][circleDays:], half)
	}
	return factors
}
