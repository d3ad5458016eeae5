package resupply

import (
	"math"
	"testing"
)

// Stopping distances of cars by speed: Ezekiel, Methods of Correlation Analysis (1930), table 10, as in the
// data sets that come with R ("cars"). R's answers are printed in many courses: line −17.579 + 3.932 · speed,
// residual deviation 15.38 on 48 degrees of freedom, standard error of the slope 0.4155; 95 % prediction intervals
// at 12, 19 and 24: −1.749529 to 60.96915, 25.761756 to 88.51159 and 44.752478 to 108.84495.
var (
	carSpeeds = []float64{4, 4, 7, 7, 8, 9, 10, 10, 10, 11, 11, 12, 12, 12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15,
		15, 16, 16, 17, 17, 17, 18, 18, 18, 18, 19, 19, 19, 20, 20, 20, 20, 20, 22, 23, 24, 24, 24, 24, 25}
	carDistances = []float64{2, 10, 4, 22, 16, 10, 18, 26, 34, 17, 28, 14, 20, 24, 28, 26, 34, 34, 46, 26, 36, 60, 80, 20, 26,
		54, 32, 40, 32, 40, 50, 42, 56, 76, 84, 36, 46, 68, 32, 48, 52, 56, 64, 66, 54, 70, 92, 93, 120, 85}
)

func TestTheLineAndItsPredictionIntervalAgreeWithAPublishedExample(t *testing.T) {
	l := fitLine(carSpeeds, carDistances, true)
	for _, c := range []struct {
		what            string
		got, want, near float64
	}{
		{"intercept", l.at(0), -17.579, 5e-4},
		{"slope", l.slope, 3.932, 5e-4},
		{"residual deviation", l.sd, 15.38, 5e-3},
		{"standard error of the slope", l.slopeSE(), 0.4155, 5e-5},
	} {
		if math.Abs(c.got-c.want) > c.near {
			t.Errorf("%s %.6f, want %v", c.what, c.got, c.want)
		}
	}
	width := student{l.df()}.quantile(0.975)
	for speed, want := range map[float64][2]float64{12: {-1.749529, 60.96915}, 19: {25.761756, 88.51159}, 24: {44.752478, 108.84495}} {
		low, high := l.at(speed)-width*l.predictionSD(speed), l.at(speed)+width*l.predictionSD(speed)
		if math.Abs(low-want[0]) > 1e-5 || math.Abs(high-want[1]) > 1e-5 {
			t.Errorf("at %v: %.6f to %.6f, want %v", speed, low, high, want)
		}
	}
}

// By hand: five years, days 10, 8, 9, 5, 3. Mean 7, Σ(year − 3)² = 10, Σ(year − 3)(day − 7) = −2·3 − 1·1 + 0 + 1·(−2) + 2·(−4)
// = −17, so the slope is −1.7. Residuals −0.4, −0.7, 2, −0.3, −0.6: sum of squares 5.1, over 3: s² = 1.7. For year 6:
// 7 − 1.7 · 3 = 1.9, s² · (1 + 1/5 + 9/10) = 3.57. The mean alone: Σ(day − 7)² = 34, over 4: 8.5; · (1 + 1/5) = 10.2.
func TestALineAndAMeanWorkedByHand(t *testing.T) {
	years, days := []float64{1, 2, 3, 4, 5}, []float64{10, 8, 9, 5, 3}
	sloped, level := fitLine(years, days, true), fitLine(years, days, false)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"slope", sloped.slope, -1.7}, {"s²", square(sloped.sd), 1.7}, {"day of year 6", sloped.at(6), 1.9},
		{"variance of the prediction", square(sloped.predictionSD(6)), 3.57}, {"its degrees of freedom", sloped.df(), 3},
		{"mean", level.at(6), 7}, {"variance about it", square(level.predictionSD(6)), 10.2}, {"its degrees of freedom", level.df(), 4},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s %v, want %v", c.what, c.got, c.want)
		}
	}
}
