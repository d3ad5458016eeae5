package forecast

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestQuantileAgreesWithPublishedExamples(t *testing.T) {
	tests := []struct {
		source string
		values []float64
		p      float64
		want   float64
	}{
		{"https://numpy.org/doc/1.24/reference/generated/numpy.percentile.html, first example", []float64{10, 7, 4, 3, 2, 1}, 0.5, 3.5},
		{"help of PERCENTILE in ftp.gnome.org/pub/gnome/sources/gnumeric/0.52", []float64{11.4, 17.3, 21.3, 25.9, 40.1}, 0.42, 20.02},
		{"R quantile(1:10, 0.25), type 7 (from memory)", []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 0.25, 3.25},
		{"by definition: the ends", []float64{5, -1, 3}, 0, -1},
		{"by definition: the ends", []float64{5, -1, 3}, 1, 5},
		{"beyond the ends", []float64{5, -1, 3}, 1.5, 5},
		{"one value", []float64{7}, 0.9, 7},
		{"no value", nil, 0.5, 0},
	}
	for _, tt := range tests {
		before := slices.Clone(tt.values)
		if got := Quantile(tt.values, tt.p); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", tt.source, got, tt.want)
		}
		if !slices.Equal(before, tt.values) {
			t.Errorf("%s: the values were reordered", tt.source)
		}
	}
}

func TestExpAgreesWithTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(rapid.Float64Range(-20, 20), rapid.Float64Range(-690, 690), rapid.Float64()).Draw(t, "x")
		got, want := exp(x), math.Exp(x)
		if got != want && math.Abs(got/want-1) > 1e-12 {
			t.Fatalf("exp(%v) = %v, want %v", x, got, want)
		}
	})
	if got := exp(math.NaN()); !math.IsNaN(got) {
		t.Errorf("exp(NaN) = %v", got)
	}
}

// covarianceOfMeans sums the autocovariances of the days of two spans, one by one.
func covarianceOfMeans(n noise, a, daysA, b, daysB int) (sum float64) {
	for i := a; i < a+daysA; i++ {
		for j := b; j < b+daysB; j++ {
			sum += n.sd * n.sd * math.Pow(n.rho, math.Abs(float64(i-j)))
		}
	}
	return sum / float64(daysA*daysB)
}

func TestTheVarianceOfAMeanIsTheSumOfItsAutocovariances(t *testing.T) {
	for _, n := range []noise{{sd: 0.1, rho: 0.7}, {sd: 0.3}, {sd: 0.2, rho: 0.95}} {
		for _, days := range []int{1, 2, 7, 31, 92} {
			want := covarianceOfMeans(n, 0, days, 0, days)
			within(t, "variance of a mean", n.meanVariance(float64(days)), want, 1e-12)
		}
	}
}

func TestNoiseOfATotalAgreesWithSimulation(t *testing.T) {
	n := noise{sd: 0.3, rho: 0.7}
	r := random(71)
	const days, count = 30, 40000
	sum, squares := 0.0, 0.0
	for range count {
		e, total := n.sd*r.NormFloat64(), 0.0
		for range days {
			total += math.Exp(e) / days
			e = n.rho*e + n.sd*math.Sqrt(1-n.rho*n.rho)*r.NormFloat64()
		}
		sum += math.Log(total)
		squares += math.Log(total) * math.Log(total)
	}
	mean := sum / count
	sd := math.Sqrt(squares/count - mean*mean)
	within(t, "deviation of the log of a total", math.Sqrt(n.totalVariance(days)), sd, 0.02*sd)
	// Matching moments is good to a thousandth here.
	within(t, "mean of the log of a total", n.lift(n.totalVariance(days)), mean, 4*sd/math.Sqrt(count)+0.001)
	within(t, "lift of one day", n.lift(n.totalVariance(1)), 0, 1e-15)
}

func TestAChainOfRowsHasTheVarianceOfItsMean(t *testing.T) {
	// Days, a gap, weeks and one named interval in between, against the sum over all pairs of days.
	spans := []struct {
		start, days int
		named       bool
	}{{0, 1, false}, {1, 1, false}, {2, 1, false}, {9, 7, false}, {16, 7, true}, {23, 30, false}}
	var observations []observation
	for _, s := range spans {
		i := Interval{Start: float64(s.start), End: float64(s.start + s.days), Litres: 100}
		observations = append(observations, observation{Interval: i, named: s.named})
	}
	f := newFit(observations, known{}, 53, flatPrior())
	f.level = make([]float64, f.knots.count)
	f.setNoise(noise{sd: 0.01, rho: 0.8}) // so small that logs and litres agree
	f.linearise()
	f.chain()
	for i, s := range spans {
		want := f.noise.meanVariance(float64(s.days))
		for j, other := range spans {
			if j != i && !other.named {
				want += float64(other.days) / float64(s.days) * covarianceOfMeans(f.noise, s.start, s.days, other.start, other.days)
			}
		}
		within(t, "chained variance over the true one", f.rows[i].chained/want, 1, 1e-3)
	}
}

func TestTheSpreadHasTheCovarianceOfThePosterior(t *testing.T) {
	life := alaska().live(epoch, 700, random(72))
	var observations []observation
	for _, i := range life.every(20, 0, 700) {
		observations = append(observations, observation{Interval: i})
	}
	f := newFit(observations, known{}, float64(epoch)+700, flatPrior())
	if !f.begin() {
		t.Fatal("no fit")
	}
	factor, _ := f.step()
	p := f.posterior(f.law, factor, make([]float64, f.size()))
	// Interval totals of one day at the end of the history: the same variance by the whole inverse.
	f.rows = append(f.rows, row{})
	f.observations = append(f.observations, observation{Interval: life.interval(699, 700)})
	f.observations[len(f.observations)-1].Start = float64(epoch) + 699.999999
	f.linearise()
	f.spreadParameters(factor)
	season := harmonicRow(int(epoch) + 699)
	within(t, "variance of the last rate", p.along(1, &season), f.rows[len(f.rows)-1].parameter, 1e-6)
}
