package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestACircleOfNoiseHasTheMomentsOfTheAutoregressionAtEveryPlaceTogether(t *testing.T) {
	for _, n := range []noise{{sd: 0.1, rho: 0}, {sd: 0.1, rho: 0.7}, {sd: 0.3, rho: 0.95}} {
		circle := newCircle(n, []float64{1, 2.5}, rand.NewPCG(1, 2))
		for i, scale := range []float64{1, 2.5} {
			e := make([]float64, circleDays)
			for day := range e {
				e[day] = math.Log(circle[i][day])
			}
			mean, cubes := 0.0, 0.0
			for _, x := range e {
				mean += x / circleDays
				cubes += x * x * x / circleDays
			}
			variance := scale * scale * n.sd * n.sd
			within(t, "mean", mean, 0, 1e-9)
			within(t, "third moment over that of the deviation", cubes/math.Pow(variance, 1.5), 0, 1e-9)
			// Of an autoregression, any textbook of time series: sd²·ρ^h. The days before the first are the last.
			for _, lag := range []int{0, 1, 2, 7, 30, 365} {
				sum := 0.0
				for day, x := range e {
					sum += x * e[(day+lag)%circleDays] / circleDays
				}
				within(t, fmt.Sprintf("%v: covariance %d days apart over the variance", n, lag), sum/variance, math.Pow(n.rho, float64(lag)), 1e-8)
			}
		}
	}
}

// noiseOf gives the noise of the days of a path of the plain model.
func noiseOf(paths Paths, path int) []float64 {
	e := make([]float64, paths.Days())
	for d := range e {
		e[d] = math.Log((paths.Cumulative(path, d+1) - paths.Cumulative(path, d)) / 1000)
	}
	return e
}

// meanNoises gives the mean of the noise over days, path by path.
func meanNoises(m Model, days, count int, seed uint64) []float64 {
	paths := m.Simulate(epoch-1, days, count, seed)
	means := make([]float64, count)
	for p := range means {
		for _, x := range noiseOf(paths, p) {
			means[p] += x / float64(days)
		}
	}
	return means
}

func TestPathsHaveTheVarianceOfTheNoiseAndSayNothingOfEachOther(t *testing.T) {
	const seeds, count = 150, 60
	for _, n := range []noise{{sd: 0.1, rho: 0.7}, {sd: 0.3, rho: 0.95}} {
		for _, days := range []int{1, 30, 540} {
			m := plain("a", "")
			m.noise = n
			squares, products := 0.0, 0.0
			for seed := range uint64(seeds) {
				sum, own := 0.0, 0.0
				for _, x := range meanNoises(m, days, count, seed) {
					sum += x
					own += x * x
				}
				squares += own / (seeds * count)
				products += (sum*sum - own) / (seeds * count * (count - 1)) // of all pairs of different paths
			}
			want := n.meanVariance(float64(days))
			what := fmt.Sprintf("%v, mean of %d days: ", n, days)
			// Four standard deviations: of 9,000 squares; of 150 squares of a sum of 60, each worth a 59th of the variance.
			within(t, what+"variance over that of the formula", squares/want, 1, 4*math.Sqrt(2.0/(seeds*count)))
			within(t, what+"covariance of two paths over the variance", products/want, 0, 4*math.Sqrt(2.0/seeds)/(count-1))
		}
	}
}

func TestTheNoiseOfATotalIsNearNormal(t *testing.T) {
	const seeds, count = 200, 50
	m := plain("a", "")
	for _, days := range []int{1, 30, 540} {
		var means []float64
		for seed := range uint64(seeds) {
			means = append(means, meanNoises(m, days, count, seed)...)
		}
		sd := math.Sqrt(m.noise.meanVariance(float64(days)))
		// By the table of the normal distribution in the NIST/SEMATECH e-Handbook, 1.3.6.7.1.
		for _, row := range [][2]float64{{1.28, 0.89973}, {1.96, 0.97500}} {
			deviations, want, beyond := row[0], 2*(1-row[1]), 0.0
			for _, x := range means {
				if math.Abs(x) > deviations*sd {
					beyond += 1.0 / (seeds * count)
				}
			}
			t.Logf("mean of %d days: %.4f beyond %g deviations", days, beyond, deviations)
			// Four standard deviations of a count; a sum of few waves is a hundredth of probability off.
			within(t, fmt.Sprintf("%d days: share beyond %g deviations", days, deviations), beyond, want, 4*math.Sqrt(want*(1-want)/(seeds*count))+0.01)
		}
	}
}

func TestNoiseIsThePlantsOwn(t *testing.T) {
	// Of one climate group, on the same path: the correlation of normals is known from 4,000 pairs to 1/sqrt(4,000), four times.
	a, b := noises(plain("a", "coast"), 30, 4000, 1), noises(plain("b", "coast"), 30, 4000, 1)
	within(t, "correlation of the noise of two plants", correlation(a, b), 0, 4/math.Sqrt(4000))
}

func TestAPathMayGoRoundTheCircle(t *testing.T) {
	const half = circleDays / 2
	paths := plain("a", "").Simulate(epoch-1, circleDays+half, 8, 1)
	for p := range paths.Count() {
		e := noiseOf(paths, p)
		for d := range circleDays {
			if math.Abs(e[d+half]+e[d]) > 1e-6 {
				t.Fatalf("path %d: noise %v on day %d, %v half a circle on", p, e[d], d, e[d+half])
			}
		}
	}
}
