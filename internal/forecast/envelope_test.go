package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The reference is gonum's dense Cholesky decomposition.
func TestTheEnvelopeAgreesWithADenseDecomposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		first := make([]int, n)
		for i := range first {
			first[i] = rapid.IntRange(0, i).Draw(t, "first")
		}
		e, dense := newEnvelope(first), mat.NewSymDense(n, nil)
		for i := range n {
			for j := first[i]; j <= i; j++ {
				x := rapid.Float64Range(-1, 1).Draw(t, "x")
				if i == j {
					x = float64(n) + rapid.Float64Range(0.1, 3).Draw(t, "diagonal")
				}
				e.add(i, j, x)
				dense.SetSym(i, j, x)
			}
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = rapid.Float64Range(-5, 5).Draw(t, "b")
		}
		var reference mat.Cholesky
		if !reference.Factorize(dense) || !e.factor() {
			t.Fatal("no factor of a dominant diagonal")
		}
		var x mat.VecDense
		var inverse mat.SymDense
		if err := reference.SolveVecTo(&x, mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
			t.Fatal(err)
		}
		if err := reference.InverseTo(&inverse); err != nil {
			t.Fatal(err)
		}
		e.solve(b)
		z := e.inverse()
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-10 {
				t.Fatalf("%s: %g, want %g", what, got, want)
			}
		}
		near("log of the determinant", e.logDeterminant(), reference.LogDet())
		for i := range n {
			near("solution", b[i], x.AtVec(i))
			for j := first[i]; j <= i; j++ {
				near("inverse", z.at(i, j), inverse.At(i, j))
			}
		}
	})
}

func TestAMatrixThatIsNotDefiniteHasNoFactor(t *testing.T) {
	for _, diagonal := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		e := newEnvelope([]int{0, 0})
		e.add(0, 0, 1)
		e.add(1, 1, diagonal)
		if e.factor() {
			t.Errorf("%g on the diagonal has a factor", diagonal)
		}
	}
}
