package forecast

import "math"

// envelope is a symmetric positive definite matrix, or its lower Cholesky factor, kept row by row from
// the first entry that is not zero to the diagonal. Knots couple with their neighbours alone and the
// shape with all, so that a matrix whose last rows are the shape's is nearly empty: a factor of n rows
// of width w costs n·w², not n³. A. George, J. W. Liu, "Computer Solution of Large Sparse Positive
// Definite Systems", 1981, chapter 4.
type envelope struct {
	first []int       // of each row
	rows  [][]float64 // row i holds the entries first[i] to i
}

// newEnvelope makes a matrix of zeros.
func newEnvelope(first []int) envelope {
	total := 0
	for i, f := range first {
		total += i - f + 1
	}
	all := make([]float64, total)
	e := envelope{first: first, rows: make([][]float64, len(first))}
	for i, f := range first {
		e.rows[i], all = all[:i-f+1:i-f+1], all[i-f+1:]
	}
	return e
}

// add adds to the entry of row i and column j, j not above i and inside the envelope.
func (e envelope) add(i, j int, x float64) { e.rows[i][j-e.first[i]] += x }

func (e envelope) at(i, j int) float64 {
	if i < j {
		i, j = j, i
	}
	if j < e.first[i] {
		return 0
	}
	return e.rows[i][j-e.first[i]]
}

func (e envelope) diagonal(i int) float64 { return e.rows[i][i-e.first[i]] }

// factor replaces the matrix by its lower Cholesky factor; it reports false if there is none.
func (e envelope) factor() bool { return e.eliminate(0, len(e.rows)) }

// eliminate takes columns from to to-1 of a matrix, of which those before are eliminated: these columns become
// those of the factor, and what is right of them becomes what is left to factor, the Schur complement. It reports false if
// there is no factor.
func (e envelope) eliminate(from, to int) bool {
	for i := from; i < to; i++ {
		row, first := e.rows[i], e.first[i]
		for j := max(first, from); j < i; j++ {
			row[j-first] = (row[j-first] - e.shared(i, j, from)) / e.diagonal(j)
		}
		pivot := row[i-first] - e.shared(i, i, from)
		if !(pivot > 0) || math.IsInf(pivot, 1) {
			return false
		}
		row[i-first] = math.Sqrt(pivot)
	}
	for j := from; j < to; j++ { // by columns: the rows do not wait for each other
		begin, scale := max(e.first[j], from), 1/e.diagonal(j)
		own := e.rows[j][begin-e.first[j] : j-e.first[j]]
		for i := to; i < len(e.rows); i++ {
			first := e.first[i]
			if first > j {
				continue
			}
			start := max(begin, first)
			row := e.rows[i][start-first : j-first+1]
			sum := row[j-start]
			for k, x := range own[start-begin:] {
				sum -= x * row[k]
			}
			row[j-start] = sum * scale
		}
	}
	for i := to; i < len(e.rows); i++ {
		row, first := e.rows[i], e.first[i]
		for j := max(first, to); j <= i; j++ {
			if begin := max(first, e.first[j], from); begin < to {
				row[j-first] -= dot(row[begin-first:to-first], e.rows[j][begin-e.first[j]:to-e.first[j]])
			}
		}
	}
	return true
}

// shared sums the products of rows i and j over the columns from from to j-1 that both have: few, mostly.
func (e envelope) shared(i, j, from int) (sum float64) {
	begin := max(e.first[i], e.first[j], from)
	if begin >= j {
		return 0
	}
	other := e.rows[j][begin-e.first[j] : j-e.first[j]]
	row := e.rows[i][begin-e.first[i]:][:len(other)]
	for k, x := range other {
		sum += x * row[k]
	}
	return sum
}

// solve replaces b by the solution of L·Lᵀ·x = b.
func (e envelope) solve(b []float64) {
	e.forward(b, 0, len(b))
	e.backward(b)
}

// forward does to the right side b what eliminate does to the matrix: with all columns taken, b is the solution of L·y = b.
func (e envelope) forward(b []float64, from, to int) {
	for i := from; i < len(b); i++ {
		row, first := e.rows[i], e.first[i]
		if begin, end := max(first, from), min(i, to); end > begin {
			b[i] -= dot(row[begin-first:end-first], b[begin:end])
		}
		if i < to {
			b[i] /= row[i-first]
		}
	}
}

// backward replaces b by the solution of Lᵀ·x = b.
func (e envelope) backward(b []float64) {
	for i := len(b) - 1; i >= 0; i-- {
		row, from := e.rows[i], e.first[i]
		b[i] /= row[i-from]
		for j, x := range row[:i-from] {
			b[from+j] -= x * b[i]
		}
	}
}

// logDeterminant gives that of L·Lᵀ.
func (e envelope) logDeterminant() float64 { return e.logDeterminantOf(0, len(e.rows)) }

// logDeterminantOf gives the part of rows from to to-1.
func (e envelope) logDeterminantOf(from, to int) (sum float64) {
	for i := from; i < to; i++ {
		sum += math.Log(e.diagonal(i))
	}
	return 2 * sum
}

// inverse gives the entries of (L·Lᵀ)⁻¹ inside the envelope, without the others: K. Takahashi, J. Fagan,
// M. Chin, "Formation of a sparse bus impedance matrix and its application to short circuit study",
// Power Industry Computer Applications Conference, 1973.
func (e envelope) inverse() envelope {
	n := len(e.rows)
	z := newEnvelope(e.first)
	below := make([]int, 0, n)       // rows below j whose envelope holds column j,
	factors := make([]float64, 0, n) // what they hold there, over the diagonal,
	sums := make([]float64, n)       // and what comes of it
	for j := n - 1; j >= 0; j-- {
		pivot := e.diagonal(j)
		below, factors = below[:0], factors[:0]
		for k := j + 1; k < n; k++ {
			if e.first[k] <= j {
				below, factors = append(below, k), append(factors, e.rows[k][j-e.first[k]]/pivot)
			}
		}
		for a, i := range below { // each entry of the lower triangle stands for its mirror too
			row, first, factor, sum := z.rows[i], z.first[i], factors[a], 0.0
			for c, k := range below[:a] {
				if k >= first {
					x := row[k-first]
					sum += x * factors[c]
					sums[c] += x * factor
				}
			}
			sums[a] = sum + row[i-first]*factor
		}
		onDiagonal := 1 / (pivot * pivot)
		for a, i := range below {
			z.add(i, j, -sums[a])
			onDiagonal += sums[a] * factors[a]
		}
		z.add(j, j, onDiagonal)
	}
	return z
}

// dot sums in four strands, which do not wait for each other.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	for len(a) >= 4 && len(b) >= 4 {
		s0 += a[0] * b[0]
		s1 += a[1] * b[1]
		s2 += a[2] * b[2]
		s3 += a[3] * b[3]
		a, b = a[4:], b[4:]
	}
	for i, x := range a {
		s0 += x * b[i]
	}
	return (s0 + s1) + (s2 + s3)
}
