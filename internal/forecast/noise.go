package forecast

import "math"

// noise is the day-to-day part e of the log rate: a first-order autoregression with standard
// deviation sd and correlation rho from one day to the next.
type noise struct {
	sd, rho float64
	// ofMean tells that the rate which it multiplies is that of the mean day, not of the median one.
	ofMean bool
}

// What is assumed of a plant that has too few readings to say. The correlation is that of weather
// (from memory: daily temperature anomalies have about 0.7); the deviation is common practice, no source.
const (
	defaultSD  = 0.15
	defaultRho = 0.7
)

// sum gives Σ rho^i over i = 0 to days-1, for a length that need not be whole.
func (n noise) sum(days float64) float64 { return (1 - math.Pow(n.rho, days)) / (1 - n.rho) }

// meanVariance gives the variance of e averaged over a span of days:
// sd²/L·[(1+ρ)/(1-ρ) - 2ρ(1-ρ^L)/(L(1-ρ)²)], which is sd² at one day and below.
// Source: the variance of the mean of an AR(1) process, any textbook of time series.
func (n noise) meanVariance(days float64) float64 {
	if days <= 1 {
		return n.sd * n.sd
	}
	long := (1 + n.rho) / (1 - n.rho)
	return n.sd * n.sd / days * (long - 2*n.rho*n.sum(days)/(days*(1-n.rho)))
}

// totalVariance gives the variance of the log of a total over days, by matching the moments of a sum
// of lognormals: L. F. Fenton, "The sum of log-normal probability distributions in scatter
// transmission systems", IRE Transactions on Communications Systems 8 (1960).
func (n noise) totalVariance(days float64) float64 { return math.Log1p(n.variation(days)) }

// variation gives the squared coefficient of variation of a total over days. Days i apart have the covariance
// exp(sd²·rho^i) - 1 about a mean of one; by the series of the exponential that is Σ_k sd^2k/k!·rho^ki, and each term is the
// covariance of an autoregression with rho^k.
func (n noise) variation(days float64) (sum float64) {
	squared, factor := n.sd*n.sd, 1.0
	if days <= 1 {
		return math.Expm1(squared)
	}
	rho := noise{sd: 1}
	for k := 1.0; ; k++ {
		factor *= squared / k
		rho.rho = math.Pow(n.rho, k)
		sum += factor * rho.meanVariance(days)
		if !(factor >= variationLeast*sum) || math.IsInf(sum, 1) {
			return sum
		}
	}
}

// variationLeast is the relative size of the terms that variation leaves out.
const variationLeast = 1e-6

// lift gives by how much the log of an average of noisy days lies above the log of the median day: the
// mean of the noise sd²/2, less half the variance that is left in the average, as totalVariance has it.
// It is 0 for one day.
func (n noise) lift(averaged float64) float64 { return (n.sd*n.sd - averaged) / 2 }

// mean gives the log of the mean of a day over the rate.
func (n noise) mean() float64 {
	if n.ofMean {
		return 0
	}
	return n.sd * n.sd / 2
}

// total is what the noise makes of a total over some days.
type total struct {
	noise    float64 // variance of its log, or of its ratio to the mean where the rate is that of the mean day
	averaged float64 // variance of the noise averaged over them
	raised   float64 // times which its median, or its mean, is the rate times the days,
	lift     float64 // and ln of that
	faded    float64 // correlation that is left between the ends
	sum      float64 // of what is left after each whole day
}

func (n noise) total(days float64) total {
	t := total{noise: n.variation(days), averaged: n.meanVariance(days), raised: 1, faded: math.Pow(n.rho, days), sum: n.sum(days)}
	if !n.ofMean {
		t.noise = math.Log1p(t.noise)
		t.lift = n.lift(t.noise)
		t.raised = math.Exp(t.lift)
	}
	return t
}
