package lots

import "math"

// tableau is a small linear problem: the least cost·y over y ≥ 0 and rows·y ≤ right, with costs of 0 or more. The dual simplex method
// begins at y = 0, which no y beats, and mends one row after another (Lemke 1954; Chvátal, Linear Programming, 1983, chapter 10). Of several choices it takes
// the first, so that it ends (Bland 1977).
type tableau struct {
	n     int
	cost  [2 * MostWindows]float64
	rows  [][]float64 // n coefficients and the right side
	basic []int       // the variable of each row: below n an amount, then the slack of a row
	free  []int       // the variable of each column
}

func newTableau(n int) *tableau {
	t := &tableau{n: n}
	for j := range n {
		t.free = append(t.free, j)
	}
	return t
}

// add adds row·y ≤ right, scaled so that its largest coefficient is 1.
func (t *tableau) add(row *[2 * MostWindows]float64, right float64) {
	scale := 0.0
	for _, x := range row[:t.n] {
		scale = max(scale, math.Abs(x))
	}
	if scale == 0 {
		scale = 1
	}
	r := make([]float64, t.n+1)
	for j, x := range row[:t.n] {
		r[j] = x / scale
	}
	r[t.n] = right / scale
	t.basic = append(t.basic, t.n+len(t.rows))
	t.rows = append(t.rows, r)
}

// pivotal is the least coefficient to pivot on; rows are of the size 1.
const pivotal = 1e-9

// ending is how the method ends.
type ending int

const (
	solved  ending = iota
	empty          // no y keeps the rows
	givenUp        // for rounding
)

// mostPivots is far more than problems of this size take.
const mostPivots = 2000

// minimum gives the best y; each row may be missed by what is tiny.
func (t *tableau) minimum(tiny float64) (y [2 * MostWindows]float64, end ending) {
	for pivots := 0; ; pivots++ {
		i := t.leaving(tiny)
		if i < 0 {
			break
		}
		j := t.entering(t.rows[i])
		if j < 0 {
			return y, empty
		}
		if pivots == mostPivots {
			return y, givenUp
		}
		t.pivot(i, j)
	}
	for i, v := range t.basic {
		if v < t.n {
			y[v] = max(0, t.rows[i][t.n])
		}
	}
	return y, solved
}

// leaving picks the row that is not kept whose variable comes first; −1 where all are kept.
func (t *tableau) leaving(tiny float64) int {
	at := -1
	for i, r := range t.rows {
		if r[t.n] < -tiny && (at < 0 || t.basic[i] < t.basic[at]) {
			at = i
		}
	}
	return at
}

// entering picks the column that raises the cost least; −1 where none mends the row.
func (t *tableau) entering(row []float64) int {
	at, least := -1, math.Inf(1)
	for j, x := range row[:t.n] {
		if x >= -pivotal {
			continue
		}
		ratio := t.cost[j] / -x
		if ratio < least || ratio == least && t.free[j] < t.free[at] {
			at, least = j, ratio
		}
	}
	return at
}

// pivot exchanges the variables of a row and a column.
func (t *tableau) pivot(i, j int) {
	r := t.rows[i]
	inverse := 1 / r[j]
	r[j] = 1
	for k := range r {
		r[k] *= inverse
	}
	for m, other := range t.rows {
		if m == i || other[j] == 0 {
			continue
		}
		f := other[j]
		other[j] = 0
		for k := range other {
			other[k] -= f * r[k]
		}
	}
	f := t.cost[j]
	t.cost[j] = 0
	for k := range t.n {
		t.cost[k] = max(0, t.cost[k]-f*r[k])
	}
	t.basic[i], t.free[j] = t.free[j], t.basic[i]
}
