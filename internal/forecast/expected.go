package forecast

import (
	"math"

	"overwinter/internal/units"
)

// drift is the posterior of what the future starts from, given one speed of level drift.
type drift struct {
	weight float64                           // posterior probability of this speed
	perDay float64                           // variance of the level's step from one day to the next
	mean   [1 + nSeason]float64              // log level at the origin, then the seasonal coefficients
	spread [1 + nSeason][1 + nSeason]float64 // upper triangular S: S·z has the posterior covariance S·Sᵀ for z standard normal
}

// variance gives the posterior variance of level + season where the seasonal row is row.
func (d *drift) variance(row *season) (sum float64) {
	for j := range 1 + nSeason {
		along := d.spread[0][j]
		for i, x := range row {
			along += x * d.spread[1+i][j]
		}
		sum += along * along
	}
	return sum
}

// Expected gives the mean of the total over a span of the day line, and its predictive standard
// deviation: of the parameters, of the level's drift since the origin, and of the day-to-day noise.
// A day before the origin has the level fitted there and the uncertainty of the origin. Both are 0
// for an empty span or a model that is not usable.
func (m Model) Expected(start, end float64) (litres, sd units.LitresAt15) {
	if m.err != nil || !(end > start) || end-start > farthestDay || len(m.drifts) == 0 {
		return 0, 0
	}
	var first, second float64 // moments of the mixture over the speeds of drift
	for i := range m.drifts {
		mean, logVariance := m.total(&m.drifts[i], start, end)
		first += m.drifts[i].weight * mean
		second += m.drifts[i].weight * mean * mean * math.Exp(logVariance)
	}
	return units.LitresAt15(first), units.LitresAt15(math.Sqrt(max(second-first*first, 0)))
}

// logRateUnder gives the posterior mean of ln rate on a day under one speed of drift.
func (m Model) logRateUnder(d *drift, day int, row *season) float64 {
	if moment := float64(day) + 0.5; moment < m.origin {
		return m.knots.at(m.level, moment) + m.season.dot(row)
	}
	sum := d.mean[0]
	for i, x := range row {
		sum += x * d.mean[1+i]
	}
	return sum
}

// total gives the mean of the total over a span under one speed of drift, and the variance of its log.
func (m Model) total(d *drift, start, end float64) (mean, logVariance float64) {
	var row season // mean harmonics, weighted by the litres of each day
	var drifted float64
	firstDay := int(math.Floor(start))
	lastDay := int(math.Ceil(end)) - 1
	shares := make([]float64, 0, lastDay-firstDay+1)
	for day := firstDay; day <= lastDay; day++ {
		covered := min(end, float64(day+1)) - max(start, float64(day))
		harmonics := harmonicRow(day)
		since := max(float64(day)+0.5-m.origin, 0)
		logMean := m.logRateUnder(d, day, &harmonics) + (d.variance(&harmonics)+d.perDay*since+m.noise.sd*m.noise.sd)/2
		litres := covered * math.Exp(logMean)
		shares = append(shares, litres)
		mean += litres
		for i := range row {
			row[i] += litres * harmonics[i]
		}
	}
	for i := range row {
		row[i] /= mean
	}
	// A step of the level moves all that comes after it: its variance counts with the square of the share still to come.
	left := mean
	for i, litres := range shares {
		from := max(float64(firstDay+i), start, m.origin)
		before := 0.0
		if i == 0 {
			before = max(start-m.origin, 0) // drift between the origin and the span moves all of it
		}
		drifted += d.perDay * left / mean * left / mean * (before + max(float64(firstDay+i+1)-from, 0))
		left -= litres
	}
	return mean, d.variance(&row) + drifted + m.noise.totalVariance(end-start)
}
