package forecast

import "math"

// chain gives each row the noise it brings to a level fitted to all of them. Days in a row share their
// noise, so n daily readings say less than n times as much as one: row k gets
// Σ_j L_j·Cov(k, j)/L_k over all fitted rows j, which makes the variance of the mean over a chain of
// rows what the autoregression says it is. The sums run forward and backward in one pass each.
func (f *fit) chain() {
	shared := make([]float64, len(f.rows))
	f.lag(shared, +1)
	f.lag(shared, -1)
	for i := range f.rows {
		r, days := &f.rows[i], f.observations[i].Days()
		scale := r.noise / r.averaged // as totalVariance has it beside meanVariance
		r.chained = r.noise + scale*f.noise.sd*f.noise.sd*f.noise.rho*r.sum*shared[i]/(days*days)
	}
}

// lag adds up, for each row, the noise sums of the fitted rows that come before it in the given direction,
// each faded by the days between.
func (f *fit) lag(sums []float64, direction int) {
	carried, edge := 0.0, math.NaN()
	for n := range f.rows {
		i := n
		if direction < 0 {
			i = len(f.rows) - 1 - n
		}
		o, r := &f.observations[i], &f.rows[i]
		near, far := o.Start, o.End
		if direction < 0 {
			near, far = o.End, o.Start
		}
		if !math.IsNaN(edge) {
			if between := float64(direction) * (near - edge); between > 0 {
				carried *= math.Pow(f.noise.rho, between)
			}
			edge = near
		}
		sums[i] += carried
		if o.named {
			continue
		}
		carried = carried*r.faded + r.sum
		edge = far
	}
}
