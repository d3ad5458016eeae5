package forecast

import "math"

// system is the normal equations of a fit under some drift and passing deviation, with the knots eliminated. What is
// left is the season's, on which alone acts how strange a law lets it be: laws that differ in that share the rest, which is most of the work.
type system struct {
	f        *fit
	law      law
	factor   envelope
	right    []float64       // knots: solved forward; season: what is left
	left     [nSeason]season // lower triangle of what is left of the season's rows
	evidence float64         // what the knots bring to twice the log of the marginal likelihood
}

// knotted gives how many unknowns the knots have.
func (f *fit) knotted() int { return 2 * f.knots.count }

// reduce eliminates the knots; it reports false if they cannot be.
func (f *fit) reduce(l law, data envelope, right []float64) (s system, ok bool) {
	n := f.knotted()
	s = system{f: f, law: l, factor: f.precision(l, data), right: append([]float64(nil), right...)}
	if !s.factor.eliminate(0, n) {
		return s, false
	}
	s.factor.forward(s.right, 0, n)
	for i := range s.left {
		copy(s.left[i][:], s.factor.rows[n+i][n:])
	}
	s.evidence = dot(s.right[:n], s.right[:n]) - s.factor.logDeterminantOf(0, n) + f.logPrior(l)
	return s, true
}

// under completes the factor with a law's season. It gives the right side solved forward and the log of the law's marginal
// likelihood by Laplace's approximation, up to a constant that is the same for all laws.
func (s *system) under(l law) (forward []float64, evidence float64, ok bool) {
	n := s.f.knotted()
	evidence = s.evidence
	for i := range s.left {
		variance := s.f.seasonVariance(l, i)
		row := s.factor.rows[n+i][n:]
		copy(row, s.left[i][:])
		row[i] += 1 / variance
		evidence -= math.Log(variance)
	}
	if !s.factor.eliminate(n, n+nSeason) {
		return nil, 0, false
	}
	forward = append([]float64(nil), s.right...)
	s.factor.forward(forward, n, n+nSeason)
	evidence += dot(forward[n:], forward[n:]) - s.factor.logDeterminantOf(n, n+nSeason)
	return forward, evidence / 2, true
}

// solve gives the solution under a law, too; it reports false if that is not to be believed.
func (s *system) solve(l law) (move []float64, evidence float64, ok bool) {
	if move, evidence, ok = s.under(l); ok {
		s.factor.backward(move)
		ok = sound(move)
	}
	return move, evidence, ok
}

// step takes one Gauss-Newton step under the fit's law with the rows' weights as they stand, and works the
// rows out anew. The factor is overwritten by the next solution.
func (f *fit) step() (factor envelope, ok bool) {
	f.chain()
	data, right := f.normalEquations()
	s, ok := f.reduce(f.law, data, right)
	if !ok {
		return s.factor, false
	}
	move, _, ok := s.solve(f.law)
	if ok {
		f.moveTo(move)
		f.linearise()
	}
	return s.factor, ok
}
