package forecast

import (
	"math"
	"testing"
)

// The reference is the table of critical values of Student's t distribution of the NIST/SEMATECH e-Handbook of Statistical
// Methods, section 1.3.6.7.2.
func TestTheMixtureOfScalesHasStudentsQuantiles(t *testing.T) {
	probabilities := []float64{0.90, 0.95, 0.975, 0.99}
	tables := map[float64][]float64{ // by degrees of freedom
		3:  {1.638, 2.353, 3.182, 4.541},
		5:  {1.476, 2.015, 2.571, 3.365},
		10: {1.372, 1.812, 2.228, 2.764},
	}
	// Eight scales cut the tail off: what they miss grows with the distance and with the heaviness of the tail.
	tolerances := map[float64][]float64{
		3:  {0.02, 0.03, 0.06, 0.12},
		5:  {0.01, 0.02, 0.03, 0.06},
		10: {0.01, 0.01, 0.02, 0.03},
	}
	for freedom, table := range tables {
		for _, scale := range []float64{1, 1.5} {
			var mixture []part
			for _, s := range tailScales(scale, freedom) {
				mixture = append(mixture, part{1.0 / tailPoints, math.Exp(s * s / 2), s * s}) // normal in logs about 0
			}
			for i, p := range probabilities {
				got := math.Log(quantileOf(mixture, p)) / scale
				within(t, "quantile", got, table[i], tolerances[freedom][i]*table[i])
				if got > table[i] {
					t.Errorf("freedom %g: the quantile %g is %.4f, beyond %.3f though the tail is cut off", freedom, p, got, table[i])
				}
				within(t, "its mirror image", math.Log(quantileOf(mixture, 1-p))/scale, -got, 1e-6)
			}
		}
	}
}
