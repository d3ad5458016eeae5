package forecast

import (
	"testing"

	"pgregory.net/rapid"
)

// fitted gives a settled fit of weekly readings.
func fitted(t *testing.T) *fit {
	t.Helper()
	var observations []observation
	for _, i := range alaska().live(epoch, 900, random(73)).every(7, 0, 900) {
		observations = append(observations, observation{Interval: i})
	}
	f := newFit(observations, known{}, float64(epoch)+900, flatPrior())
	if !f.begin() {
		t.Fatal("no fit")
	}
	return f
}

// The reference is the same system factored anew with the jump in it.
func TestTheGainOfAJumpIsThatOfANewFactor(t *testing.T) {
	f := fitted(t)
	data, right := f.normalEquations()
	evidence := func(l law) (system, []float64, float64) {
		s := f.reduce(0, l, data, right)
		forward, evidence, ok := s.under(l)
		if !ok {
			t.Fatal("no factor")
		}
		return s, forward, evidence
	}
	for _, l := range []law{laws[0], laws[len(laws)-1]} {
		for _, gap := range []int{0, 7, len(f.jumps) - 1} {
			s, forward, without := evidence(l)
			gain := s.gainOfJump(l, gap, forward)
			f.jumps[gap] = jumpVariance
			_, _, with := evidence(l)
			f.jumps[gap] = 0
			within(t, "gain", gain, with-without, 1e-7)
		}
	}
}

// The reference is one elimination of all unknowns at once, which another test holds against a dense decomposition.
func TestLawsThatShareTheKnotsAreSolvedAsEachByItself(t *testing.T) {
	f := fitted(t)
	data, right := f.normalEquations()
	s := f.reduce(0, laws[0], data, right)
	moves := map[float64][]float64{}
	for _, strange := range []float64{9, 1, 3} {
		l := laws[0]
		l.strange = strange
		move, _, ok := s.solve(l)
		if !ok {
			t.Fatal("no solution")
		}
		moves[strange] = move
	}
	for strange, move := range moves {
		l := laws[0]
		l.strange = strange
		alone := f.room(1, data)
		f.precision(l, data, alone)
		for i := range f.coefficients() {
			alone.add(f.knotted()+i, f.knotted()+i, 1/f.seasonVariance(l, i))
		}
		if !alone.factor() {
			t.Fatal("no factor")
		}
		want := append([]float64(nil), right...)
		alone.solve(want)
		for i, x := range move {
			within(t, "unknown", x, want[i], 1e-9)
		}
	}
}

func TestTheDotProductIsTheSumOfProducts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SliceOfN(rapid.IntRange(-1000, 1000), 0, 30).Draw(t, "a")
		x, y, want := make([]float64, len(a)), make([]float64, len(a)+2), 0
		for i, v := range a { // whole numbers, so that the order of the sum does not matter
			x[i], y[i] = float64(v), float64(v+i)
			want += v * (v + i)
		}
		if got := dot(x, y); got != float64(want) {
			t.Fatalf("%v, want %d", got, want)
		}
	})
}
