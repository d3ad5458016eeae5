package forecast

import "math"

const (
	winsorBound = 2.5
	// winsorMean is E[min(z², 2.5²)] for z standard normal: 2Φ(c)-1 - 2cφ(c) + 2c²(1-Φ(c)), computed.
	winsorMean = 0.97756

	scalePrior = 4.0   // readings that the default deviation counts for
	leastSD    = 0.005 // a meter's resolution: no plant is steadier
	mostSD     = 3.0   // of a day in logs: beyond it the readings are no use of one plant
	leastPairs = 60    // pairs of one-day intervals from which the correlation is estimated
	mostRho    = 0.95
	leastShare = 0.2 // of a residual's variance that the fit can leave
)

// rescale takes one step of the estimate of the noise from the residuals of the fitted rows.
func (f *fit) rescale() {
	n := noise{sd: f.deviation(), rho: f.correlation(), ofMean: f.erratic}
	if f.erratic { // in small steps: the variation of a total grows faster than the variance of days
		n.sd = math.Sqrt(n.sd * f.noise.sd)
	}
	f.setNoise(n)
	for i := range f.rows {
		if r := &f.rows[i]; r.expected != r.median*r.raised { // of a single day noise does not move the mean
			f.compare(&f.observations[i], r)
		}
	}
}

// spare is the part of a row's own variance that is left in its residual after the fit.
func (r *row) spare() float64 { return max(1-r.parameter/r.own(), leastShare) }

// deviation estimates the standard deviation of daily noise: Fisher scoring of a variance component on
// squared residuals, winsorised so that what is not yet named does little harm. Rows that are all
// measurement error have little say.
func (f *fit) deviation() float64 {
	weights := scalePrior
	sum := scalePrior * defaultSD * defaultSD
	for i := range f.rows {
		r := &f.rows[i]
		if f.observations[i].named {
			continue
		}
		z2 := min(r.residual*r.residual/(r.own()*r.spare()), winsorBound*winsorBound) / winsorMean
		perUnit := r.noise / (f.noise.sd * f.noise.sd)
		weight := r.noise / r.own() * r.noise / r.own()
		weights += weight
		sum += weight * (z2*r.own() - r.measuring) / perUnit
	}
	return min(math.Sqrt(max(sum/weights, leastSD*leastSD)), mostSD)
}

// correlation estimates rho from pairs of adjoining one-day intervals; the default stands for fewer
// than leastPairs. What the fit took from residuals and from their products alike is added back.
func (f *fit) correlation() float64 {
	var products, squares, pairs float64
	for i := 1; i < len(f.rows); i++ {
		if !f.oneDay(i-1) || !f.oneDay(i) || f.observations[i].Start-f.observations[i-1].End > 0.01 {
			continue
		}
		a, b := &f.rows[i-1], &f.rows[i]
		u, v := winsorise(a), winsorise(b)
		taken := (a.parameter + b.parameter) / 2
		products += u*v + taken
		squares += (u*u+v*v)/2 + taken - (a.measuring+b.measuring)/2
		pairs++
	}
	if pairs < leastPairs || squares <= 0 {
		if f.erratic {
			return erraticRho
		}
		return defaultRho
	}
	return min(max(products/squares, 0), mostRho)
}

func (f *fit) oneDay(i int) bool {
	return !f.observations[i].named && math.Abs(f.observations[i].Days()-1) < 0.1
}

func winsorise(r *row) float64 {
	bound := winsorBound * math.Sqrt(r.own())
	return min(max(r.residual, -bound), bound)
}
