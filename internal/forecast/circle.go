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
	e := make([]float64, circleDays/2)
	sumOfOddWaves(e, func(k int) complex128 {
		turn := 2 * math.Pi * float64(k) / circleDays
		spectrum := (1 - n.rho*n.rho) / (1 - 2*n.rho*math.Cos(turn) + n.rho*n.rho)
		return cmplx.Rect(n.sd*math.Sqrt(2*spectrum/circleDays), 2*math.Pi*uniform(source))
	})
	factors := make([][]float64, len(scales))
	for i, scale := range scales {
		factors[i] = make([]float64, circleDays+blockDays)
		half, mirror := factors[i][:circleDays/2], factors[i][circleDays/2:circleDays]
		for day, x := range e {
			half[day] = scale * x
		}
		expAll(half)
		for day, x := range half {
			mirror[day] = 1 / x
		}
		copy(factors[i][circleDays:], half)
	}
	return factors
}

// turns are exp(-2πi·d/circleDays) of the first quarter of the days d.
var turns = func() (all [circleDays / 4]complex128) {
	for d := range all {
		all[d] = cmplx.Rect(1, -2*math.Pi*float64(d)/circleDays)
	}
	return all
}()

// sumOfOddWaves fills half a circle with e(d) = Σ w(k)·exp(2πi·k·d/circleDays) over all odd k, where w(-k) is the conjugate of w(k). It asks for
// w(k) from k = 1 on.
//
// A quarter of a circle on, wave k is times i^k. So in e(d) + i·e(d + quarter) waves with k = 4l+1 cancel, and those with k = 4l-1 count twice:
// a Fourier sum of quarter length over l gives both.
func sumOfOddWaves(e []float64, wave func(k int) complex128) {
	const quarter = circleDays / 4
	waves := make([]complex128, quarter)
	for l := range quarter / 2 {
		waves[(quarter-l)%quarter] = 2 * cmplx.Conj(wave(4*l+1)) // that of -(4l+1)
		waves[l+1] = 2 * wave(4*l+3)
	}
	for d, z := range fourier.NewCmplxFFT(quarter).Sequence(waves, waves) {
		z *= turns[d]
		e[d], e[d+quarter] = real(z), imag(z)
	}
}
