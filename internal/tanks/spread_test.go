package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// Moments of the standard normal distribution: 1, 0, 1, 0, 3, and 105 for the eighth power.
func TestTheRulesHaveTheMomentsOfANormalDeviate(t *testing.T) {
	moment := func(nodes []node, power float64) (sum float64) {
		for i, n := range nodes {
			if i > 0 && n.at <= nodes[i-1].at {
				t.Fatalf("node %d does not rise", i)
			}
			sum += n.weight * math.Pow(n.at, power)
		}
		return sum
	}
	for power, want := range map[float64]float64{0: 1, 1: 0, 2: 1, 3: 0, 4: 3, 8: 105} {
		near(t, "few", moment(few[:], power), want, 1e-10*(1+want))
		if power <= 4 {
			near(t, "many", moment(many[:], power), want, 2e-3*(1+want))
		}
	}
}

// A level known to 1 mm in a box of 1 L per mm, wherever the bend lies: exact is the deviation of max(0, z − a),
// (1 + a²)·Q(a) − a·φ(a) less the square of φ(a) − a·Q(a), from the normal distribution.
func TestABendCostsTheSpreadLittle(t *testing.T) {
	s := shape(t)(Rectangular(1000, 1000, 10000))
	for a := -4.0; a <= 2; a += 0.05 {
		found := levels{liquidRead: noisy{s, 5000, 1, 10000}}
		got, _ := found.spread(found.liquidRead.sampled(), found.waterRead.sampled(), units.Litres(5000+a))
		density := math.Exp(-a*a/2) / math.Sqrt(2*math.Pi)
		tail := math.Erfc(a/math.Sqrt2) / 2
		mean := density - a*tail
		want := math.Sqrt((1+a*a)*tail - a*density - mean*mean)
		near(t, "L", got, want, 0.0025*want)
	}
}
