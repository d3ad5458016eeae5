package forecast

import "math"

const (
	expSteps = 256
	expRange = 700 // beyond it the result is near the ends of float64
)

var expTable = func() (table [expSteps]float64) {
	for i := range table {
		table[i] = math.Exp2(float64(i) / expSteps)
	}
	return table
}()

// exp is e^x within one part in 10¹². A fit and a simulation spend much of their time here, and
// math.Exp takes up to ten times as long.
func exp(x float64) float64 {
	if x > -expRange && x < expRange {
		return expInRange(x)
	}
	return math.Exp(x)
}

// expInRange is exp without a look at the range, small enough to be inlined.
// x = (k + i/256)·ln 2 + r: 2^k by its bits, 2^(i/256) from a table, e^r by its series.
func expInRange(x float64) float64 {
	const perStep = math.Ln2 / expSteps
	const toWhole = 3 << 51 // a float64 this large has no fraction: adding it rounds
	rounded := x*(1/perStep) + toWhole
	r := x - (rounded-toWhole)*perStep
	k := math.Float64bits(rounded) // its low bits are the whole number, in two's complement
	scale := math.Float64frombits((k/expSteps + 1023) << 52)
	return scale * expTable[k%expSteps] * (1 + r*(1+r*(1.0/2+r*(1.0/6))))
}

// expAll replaces each of xs by exp of it.
func expAll(xs []float64) {
	for i, x := range xs {
		if x > -expRange && x < expRange {
			xs[i] = expInRange(x)
		} else {
			xs[i] = math.Exp(x)
		}
	}
}
