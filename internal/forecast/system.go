package forecast

import "math"

// system is the normal equations of a fit under some drift and passing deviation, with the knots eliminated. What is
// left is the season's, on which alone acts how strange a law lets it be: laws that differ in that share the rest, which is most of the work.
type system struct {
	f        *fit
	factor   envelope        // in a room of the fit
	right    []float64       // knots: solved forward; season: what is left
	left     [nSeason]season // lower triangle of what is left of the season's rows
	evidence float64         // what the knots bring to twice the log of the marginal likelihood
	reduced  bool            // the knots could be eliminated
}

// knotted gives how many unknowns the knots have.
func (f *fit) knotted() int { return 2 * f.knots.count }

// reduce eliminates the knots, in the room of a number.
func (f *fit) reduce(room int, l law, data envelope, right []float64) (s system) {
	n := f.knotted()
	s = system{f: f, factor: f.room(room, data), right: append([]float64(nil), right...)}
	f.precision(l, data, s.factor)
	if !s.factor.eliminate(0, n) {
		return s
	}
	s.factor.forward(s.right, 0, n)
	for i, row := range s.factor.rows[n:] {
		copy(s.left[i][:], row[n:])
	}
	s.evidence = dot(s.right[:n], s.right[:n]) - s.factor.logDeterminantOf(0, n) + f.logPrior(l)
	s.reduced = true
	return s
}

// systems gives the systems of the laws, in their order but one for all that differ in the season alone. They are kept until the next
// step: who looks for a jump and finds none has reduced them for who weighs the laws.
func (f *fit) systems() []system {
	if len(f.reduced) == 0 {
		data, right := f.normalEquations()
		for i := 0; i < len(laws); i += len(stranges) {
			f.reduced = append(f.reduced, f.reduce(len(f.reduced), laws[i], data, right))
		}
	}
	return f.reduced
}

// under completes the factor with a law's season. It gives the right side solved forward and the log of the law's marginal
// likelihood by Laplace's approximation, up to a constant that is the same for all laws.
func (s *system) under(l law) (forward []float64, evidence float64, ok bool) {
	if !s.reduced {
		return nil, 0, false
	}
	n, all := s.f.knotted(), s.f.size()
	evidence = s.evidence
	for i, row := range s.factor.rows[n:] {
		variance := s.f.seasonVariance(l, i)
		row = row[n:]
		copy(row, s.left[i][:])
		row[i] += 1 / variance
		evidence -= math.Log(variance)
	}
	if !s.factor.eliminate(n, all) {
		return nil, 0, false
	}
	forward = append([]float64(nil), s.right...)
	s.factor.forward(forward, n, all)
	evidence += dot(forward[n:], forward[n:]) - s.factor.logDeterminantOf(n, all)
	return forward, evidence / 2, true
}

// solve gives the solution under a law, too; it reports false if that is not to be believed.
func (s *system) solve(l law) (move []float64, evidence float64, ok bool) {
	if move, evidence, ok = s.under(l); ok {
		ok = s.finish(move)
	}
	return move, evidence, ok
}

// finish makes the solution of what under has solved forward; it reports false if that is not to be believed.
func (s *system) finish(forward []float64) bool {
	s.factor.backward(forward)
	return sound(forward)
}

// step takes one Gauss-Newton step under the fit's law with the rows' weights as they stand, and works the
// rows out anew. The factor is overwritten by the next solution.
func (f *fit) step() (factor envelope, ok bool) {
	f.reduced = f.reduced[:0]
	f.chain()
	data, right := f.normalEquations()
	s := f.reduce(0, f.law, data, right)
	move, _, ok := s.solve(f.law)
	if ok {
		f.moveTo(move)
		f.linearise()
	}
	return s.factor, ok
}
