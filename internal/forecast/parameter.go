package forecast

// spreadParameters gives each row the posterior variance of its expected total: that of its knots and its season, for
// x'Σx with Σ the inverse of the precision.
func (f *fit) spreadParameters(factor envelope) {
	z := factor.inverse()
	n := f.knots.count
	knots := make([]season, n) // covariance of the level with what passes and the season, twice
	var block [nSeason]season  // of the season: the lower triangle stands for both
	for i, row := range z.rows[2*n:] {
		for k := range knots {
			knots[k][i] = 2 * (row[2*k] + row[2*k+1])
		}
		for j, x := range row[2*n:] {
			block[i][j] = 2 * x
		}
		block[i][i] /= 2
	}
	form, levels := formOf(&block), f.levelCovariance(z)
	for k := range f.rows {
		r := &f.rows[k]
		used, sum := r.bySeason[:f.coefficients()], 0.0
		for i, x := range r.byKnot {
			a := r.firstKnot + i
			for j, y := range r.byKnot[:i] {
				sum += 2 * x * y * levels.at(a, r.firstKnot+j)
			}
			sum += x * (x*levels.diagonal(a) + knots[a].along(r.bySeason, len(used)))
		}
		from := 0
		if r.overtones != nil {
			sum, from = sum+form.at(r.bySeason, r.overtones), nHarmonic
		}
		for i := from; i < len(used); i++ {
			sum += used[i] * dot(used[:i+1], block[i][:])
		}
		r.parameter = max(sum, 0)
	}
}

// levelCovariance gives the covariance between knots of level and passing deviation together.
func (f *fit) levelCovariance(z envelope) envelope {
	n := f.knots.count
	first := make([]int, n)
	for i := range first {
		first[i] = z.first[2*i] / 2
	}
	levels := newEnvelope(first)
	for i := range n {
		for j := first[i]; j <= i; j++ {
			a, b := 2*i, 2*j
			levels.add(i, j, z.at(a, b)+z.at(a, b+1)+z.at(a+1, b)+z.at(a+1, b+1))
		}
	}
	return levels
}
