package resupply

import (
	"math"
	"testing"
)

// By hand: the mean of Beta(k + a, n − k + 1 − a) is (k + a) / (n + 1).
func TestTheChanceOfFailingCountsWhatIsStatedAsOneYear(t *testing.T) {
	stated := func(a float64) *float64 { return &a }
	for _, c := range []struct {
		failed, years int
		stated        *float64
		want          float64
	}{
		{1, 28, nil, 1.5 / 29}, {0, 19, nil, 0.5 / 20}, {0, 0, nil, 0.5},
		{1, 28, stated(0.1), 1.1 / 29}, {0, 9, stated(0.05), 0.005}, {0, 9, stated(0), 0}, {0, 0, stated(0.02), 0.02},
	} {
		if got := fitFailures(c.failed, c.years, c.stated).Chance; math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%d of %d, stated %v: %v, want %v", c.failed, c.years, c.stated, got, c.want)
		}
	}
}

// Brown, Cai & DasGupta (2001): the ends are quantiles of Beta(k + ½, n − k + ½), 0 at k = 0 and 1 at k = n. With p = sin²θ
// the density is sin²ᵏθ cos²⁽ⁿ⁻ᵏ⁾θ, which Simpson's rule sums here.
func TestTheIntervalOfTheChanceIsJeffreys(t *testing.T) {
	for _, c := range [][2]int{{0, 30}, {1, 30}, {3, 12}, {5, 6}, {4, 4}} {
		failed, years := c[0], c[1]
		f := fitFailures(failed, years, nil)
		if failed == 0 && f.Low != 0 || failed == years && f.High != 1 {
			t.Errorf("%d of %d: %v to %v", failed, years, f.Low, f.High)
		}
		if failed > 0 {
			near(t, "below the low end", jeffreysBelow(f.Low, failed, years), 0.05)
		}
		if failed < years {
			near(t, "below the high end", jeffreysBelow(f.High, failed, years), 0.95)
		}
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s lies %.8f, want %v", what, got, want)
	}
}

func jeffreysBelow(p float64, failed, years int) float64 {
	integral := func(to float64) float64 {
		const n = 4000
		sum := 0.0
		for i := range n + 1 {
			theta := to * float64(i) / n
			weight := float64(2 + 2*(i%2))
			if i == 0 || i == n {
				weight = 1
			}
			sum += weight * math.Pow(math.Sin(theta), float64(2*failed)) * math.Pow(math.Cos(theta), float64(2*(years-failed)))
		}
		return sum * to / (3 * n)
	}
	return integral(math.Asin(math.Sqrt(p))) / integral(math.Pi/2)
}
