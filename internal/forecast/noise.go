package forecast

import "math"

// noise is the day-to-day part e of the log rate: a first-order autoregression with standard
// deviation sd and correlation rho from one day to the next.
type noise struct {
	sd, rho float64
}

// What is assumed of a plant that has too few readings to say. The correlation is that of weather
// (from memory: daily temperature anomalies have about 0.7); the deviation is common practice, no source.
const (
	defaultSD  = 0.10
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
func (n noise) totalVariance(days float64) float64 {
	return math.Log1p(math.Expm1(n.sd*n.sd) / (n.sd * n.sd) * n.meanVariance(days))
}

// lift gives by how much the log of an average of noisy days lies above the log of the median day: the
// mean of the noise sd²/2, less half the variance that is left in the average, as totalVariance has it.
// It is 0 for one day.
func (n noise) lift(averaged float64) float64 { return (n.sd*n.sd - averaged) / 2 }

// total is what the noise makes of a total over some days.
type total struct {
	noise    float64 // variance of its log
	averaged float64 // variance of the noise averaged over them
	raised   float64 // times which its mean is the total of the median days
	faded    float64 // correlation that is left between the ends
	sum      float64 // of what is left after each whole day
}

func (n noise) total(days float64) total {
	variance := n.totalVariance(days)
	return total{
		noise: variance, averaged: n.meanVariance(days), raised: math.Exp(n.lift(variance)),
		faded: math.Pow(n.rho, days), sum: n.sum(days),
	}
}
