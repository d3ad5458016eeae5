package forecast

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// readDays makes a fit of one-day intervals whose logs are the values, with level and season free and nothing
// else: noise of the given deviation from day to day, without correlation, no drift and nothing passing.
func readDays(days []calendar.Day, values []float64, sd float64, harmonics int) *fit {
	var observations []observation
	for i, day := range days {
		reading := Interval{Start: float64(day), End: float64(day) + 1, Litres: units.LitresAt15(math.Exp(values[i]))}
		observations = append(observations, observation{Interval: reading})
	}
	p := flatPrior()
	for i := range p.sd {
		p.sd[i] = noEffect / 100
		if i < 2*harmonics {
			p.sd[i] = 1000
		}
	}
	f := newFit(observations, known{}, float64(days[len(days)-1])+1, p)
	f.law = law{drift: 1e-4, passing: 1e-5, strange: 1}
	f.startLevel = median(values)
	f.level = make([]float64, f.knots.count)
	for i := range f.level {
		f.level[i] = f.startLevel
	}
	f.setNoise(noise{sd: sd})
	f.linearise()
	for i := range f.rows {
		f.rows[i].weight = 1
	}
	return f
}

// nottingham holds the mean air temperatures at Nottingham Castle in °F, January 1920 to December 1939: O. D. Anderson,
// "Time Series Analysis and Forecasting: The Box-Jenkins approach", 1976, Series R; in R as datasets::nottem.
var nottingham = []float64{
	40.6, 40.8, 44.4, 46.7, 54.1, 58.5, 57.7, 56.4, 54.3, 50.5, 42.9, 39.8,
	44.2, 39.8, 45.1, 47.0, 54.1, 58.7, 66.3, 59.9, 57.0, 54.2, 39.7, 42.8,
	37.5, 38.7, 39.5, 42.1, 55.7, 57.8, 56.8, 54.3, 54.3, 47.1, 41.8, 41.7,
	41.8, 40.1, 42.9, 45.8, 49.2, 52.7, 64.2, 59.6, 54.4, 49.2, 36.3, 37.6,
	39.3, 37.5, 38.3, 45.5, 53.2, 57.7, 60.8, 58.2, 56.4, 49.8, 44.4, 43.6,
	40.0, 40.5, 40.8, 45.1, 53.8, 59.4, 63.5, 61.0, 53.0, 50.0, 38.1, 36.3,
	39.2, 43.4, 43.4, 48.9, 50.6, 56.8, 62.5, 62.0, 57.5, 46.7, 41.6, 39.8,
	39.4, 38.5, 45.3, 47.1, 51.7, 55.0, 60.4, 60.5, 54.7, 50.3, 42.3, 35.2,
	40.8, 41.1, 42.8, 47.3, 50.9, 56.4, 62.2, 60.5, 55.4, 50.2, 43.0, 37.3,
	34.8, 31.3, 41.0, 43.9, 53.1, 56.9, 62.5, 60.3, 59.8, 49.2, 42.9, 41.9,
	41.6, 37.1, 41.2, 46.9, 51.2, 60.4, 60.1, 61.6, 57.0, 50.9, 43.0, 38.8,
	37.1, 38.4, 38.4, 46.5, 53.5, 58.4, 60.6, 58.2, 53.8, 46.6, 45.5, 40.6,
	42.4, 38.4, 40.3, 44.6, 50.9, 57.0, 62.1, 63.5, 56.3, 47.3, 43.6, 41.8,
	36.2, 39.3, 44.5, 48.7, 54.2, 60.8, 65.5, 64.9, 60.1, 50.2, 42.1, 35.8,
	39.4, 38.2, 40.4, 46.9, 53.4, 59.6, 66.5, 60.4, 59.2, 51.2, 42.8, 45.8,
	40.0, 42.6, 43.5, 47.1, 50.0, 60.5, 64.6, 64.0, 56.8, 48.6, 44.2, 36.4,
	37.3, 35.0, 44.0, 43.9, 52.7, 58.6, 60.0, 61.1, 58.1, 49.6, 41.6, 41.3,
	40.8, 41.0, 38.4, 47.4, 54.1, 58.6, 61.4, 61.8, 56.3, 50.9, 41.4, 37.1,
	42.1, 41.2, 47.3, 46.6, 52.4, 59.0, 59.6, 60.4, 57.0, 50.7, 47.8, 39.2,
	39.4, 40.9, 42.4, 47.8, 52.4, 58.0, 60.7, 61.8, 58.2, 46.7, 46.6, 37.8,
}

// The reference values are computed with lm of R 4.2.2: the temperature of the middle day of each month, at noon, on three
// yearly harmonics of the day line.
func TestHarmonicRegressionOfAPublishedSeriesAgreesWithLeastSquares(t *testing.T) {
	var days []calendar.Day
	for i := range nottingham {
		days = append(days, calendar.Date(1920, time.Month(1+i), 15))
	}
	const sd = 2.32006914 // of the residuals, by lm
	f := readDays(days, nottingham, sd, 3)
	factor, ok := f.step()
	if !ok {
		t.Fatal("no fit")
	}
	p := f.posterior(f.law, factor, make([]float64, f.size()))
	// The free level of a deviation of 10 pulls to the median 47 by 2.32²/240/10² of the 2 degrees between.
	within(t, "intercept", last(f.level), 49.084175301, 1e-3)
	// The prior of a deviation of 1,000 and the last drift of 0.0001 a year leave less.
	const tolerance = 2e-5
	coefficients := []struct{ want, deviation float64 }{
		{-4.011435099, 0.211415508}, {-10.856450008, 0.212214501},
		{1.259178904, 0.211679583}, {0.726336127, 0.212012508},
		{0.279841297, 0.213052479}, {0.227887563, 0.210656090},
	}
	for i, c := range coefficients {
		within(t, "coefficient", f.season[i], c.want, tolerance)
		within(t, "its standard deviation", math.Sqrt(p.covariance(2+i, 2+i)), c.deviation, tolerance)
	}
}

// Determinations of copper in wholemeal flour, parts per million: Analytical Methods Committee, "Robust statistics - how
// not to reject outliers", The Analyst 114 (1989). The estimate is printed in the reference manual of R's package MASS
// (W. N. Venables, B. D. Ripley, "Modern Applied Statistics with S", 2002), example of huber: mu 3.206724 with the
// normalised median deviation 0.526323 and the bound 1.5.
func TestHubersEstimateOfAPublishedSeriesIsFound(t *testing.T) {
	copper := []float64{
		2.9, 3.1, 3.4, 3.4, 3.7, 3.7, 2.8, 2.5, 2.4, 2.4, 2.7, 2.2,
		5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.4, 2.2, 3.5, 3.6, 3.7, 3.7,
	}
	var days []calendar.Day
	for i := range copper {
		days = append(days, epoch+calendar.Day(2*i))
	}
	centre := median(copper)
	var off []float64
	for _, x := range copper {
		off = append(off, math.Abs(x-centre))
	}
	sd := madToSD * median(off)
	within(t, "normalised median deviation", sd, 0.526323, 5e-7)
	f := readDays(days, copper, sd, 0)
	for range 60 {
		f.weigh()
		if _, ok := f.step(); !ok {
			t.Fatal("no fit")
		}
	}
	// The free level of a deviation of 10 pulls to the median 3.385 by 0.526²/24/10² of the 0.18 between.
	within(t, "Huber's estimate", last(f.level), 3.206724, 3e-5)
}
