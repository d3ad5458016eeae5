package forecast

import (
	"fmt"
	"math"
	"testing"
)

// The reference is the definition: the mean over all pairs of days of their covariance about a mean of one, exp(s²·ρ^|i-j|) - 1.
func TestTheVariationOfATotalIsTheMeanOverAllPairsOfDays(t *testing.T) {
	for _, sd := range []float64{0.005, 0.1, 0.7, 1.5, 3} {
		for _, rho := range []float64{0, 0.5, 0.9, mostRho} {
			for _, days := range []int{1, 2, 30, 365} {
				want := 0.0
				for i := range days {
					for j := range days {
						want += math.Expm1(sd*sd*math.Pow(rho, math.Abs(float64(i-j)))) / float64(days*days)
					}
				}
				got := noise{sd: sd, rho: rho}.variation(float64(days))
				within(t, fmt.Sprintf("deviation %g, correlation %g, %d days", sd, rho, days), got/want, 1, 10*variationLeast)
			}
		}
	}
}

func TestTheVariationOfATotalFallsWithItsLength(t *testing.T) {
	n, before := noise{sd: 0.8, rho: 0.9}, math.Inf(1)
	for _, days := range []float64{1, 1.01, 2, 2.5, 7, 30.4, 365.25} {
		now := n.variation(days)
		if !(now < before) {
			t.Errorf("%g days vary by %g, fewer days by %g", days, now, before)
		}
		before = now
	}
	// Within a day there is one number for the noise.
	within(t, "a third of a day", n.variation(1.0/3), n.variation(1), 0)
}
