package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// prior is what is believed of a plant's season before its own readings: coefficients about mean, each
// with standard deviation sd.
type prior struct{ mean, sd season }

// fit is one plant's regression in progress: unknowns are the log level at the knots and the seasonal
// coefficients, in that order.
type fit struct {
	knots        knots
	prior        prior
	startLevel   float64
	observations []observation
	rows         []row
	harmonics    []season // of each day from firstDay on
	firstDay     int
	jumps        []float64 // extra variance of the level between knot i and i+1, where load stepped

	noise  noise
	perDay float64 // variance of the level's step from one day to the next
	level  []float64
	season season
}

// observation is an interval with the verdict on it.
type observation struct {
	Interval
	named bool // faulty: not fitted
}

// row is one interval linearised about the current estimate: Gauss-Newton on the log of its total.
type row struct {
	firstKnot int
	byKnot    []float64 // mean weight of the knots from firstKnot on, over the litres of the interval
	bySeason  season
	median    float64 // total of the median days in litres
	expected  float64 // mean total in litres: more than that by what noise adds
	residual  float64 // relative: ln(litres/expected), or litres/expected - 1 where the measurement is coarse
	coarse    bool    // its value comes as near to zero as its uncertainty allows, so that it has no log
	noise     float64 // variance of the residual by day-to-day noise
	measuring float64 // variance of the residual by the measurement
	chained   float64 // noise with that shared with its neighbours: see chain
	parameter float64 // posterior variance of the expected total, relative
	weight    float64 // Huber's
}

// own is the variance of the residual about the true expected total.
func (r *row) own() float64 { return r.noise + r.measuring }

const (
	wideLevel   = 10.0 // prior standard deviation of the log level: as good as none
	coarseRatio = 0.2  // a measurement less certain than this is fitted in litres, not in logs
	huberBound  = 1.5  // residuals beyond so many standard deviations lose weight
	farthestLog = 50.0 // that an estimate can move: beyond it the fit has run away
)

func newFit(observations []observation, origin float64, p prior) *fit {
	f := &fit{prior: p, observations: observations, season: p.mean}
	f.knots = placeKnots(observations[0].Start, origin)
	f.jumps = make([]float64, f.knots.count-1)
	f.rows = make([]row, len(observations))
	f.setNoise(noise{defaultSD, defaultRho})
	f.firstDay = int(math.Floor(observations[0].Start))
	f.harmonics = make([]season, int(math.Ceil(origin))-f.firstDay)
	for i := range f.harmonics {
		f.harmonics[i] = harmonicRow(f.firstDay + i)
	}
	return f
}

// step takes one Gauss-Newton step with the rows' weights as they stand, and works the rows out anew.
func (f *fit) step() (factor blas64.Triangular, ok bool) {
	f.chain()
	if factor, ok = f.solve(); ok {
		f.linearise()
	}
	return factor, ok
}

// linearise works the rows out anew about the current estimate.
func (f *fit) linearise() {
	for i := range f.rows {
		f.expect(&f.observations[i], &f.rows[i])
	}
}

// expect works out the mean total of an interval, m = Σ o_d·exp(x_d'b) over its days with o_d the
// share of the day that it covers, and the derivative of ln m: Σ p_d x_d with p_d = o_d·exp(x_d'b)/m.
func (f *fit) expect(o *observation, r *row) {
	first, last := int(math.Floor(o.Start)), int(math.Ceil(o.End))-1
	left, _ := f.knots.weigh(max(float64(first)+0.5, o.Start))
	right, _ := f.knots.weigh(min(float64(last)+0.5, o.End))
	r.firstKnot, r.bySeason = left, season{}
	r.byKnot = append(r.byKnot[:0], make([]float64, right-left+2)...)
	sum := 0.0
	for day := first; day <= last; day++ {
		covered := min(o.End, float64(day+1)) - max(o.Start, float64(day))
		knot, share := f.knots.weigh(min(max(float64(day)+0.5, o.Start), o.End))
		harmonics := &f.harmonics[day-f.firstDay]
		litres := covered * exp(f.level[knot]*(1-share)+f.level[knot+1]*share+f.season.dot(harmonics))
		r.byKnot[knot-left] += litres * (1 - share)
		r.byKnot[knot-left+1] += litres * share
		for i, x := range harmonics {
			r.bySeason[i] += litres * x
		}
		sum += litres
	}
	for i := range r.byKnot {
		r.byKnot[i] /= sum
	}
	for i := range r.bySeason {
		r.bySeason[i] /= sum
	}
	r.median = sum
	f.compare(o, r)
}

// setNoise changes the noise and what each row has of it; rows are compared anew afterwards.
func (f *fit) setNoise(n noise) {
	f.noise = n
	for i := range f.rows {
		f.rows[i].noise = n.totalVariance(f.observations[i].Days())
	}
}

// compare sets a row's reading against what the current noise makes of its median days.
func (f *fit) compare(o *observation, r *row) {
	r.expected = r.median * exp(f.noise.lift(r.noise))
	uncertainty := float64(o.Sigma) / r.expected
	r.measuring = uncertainty * uncertainty
	ratio := float64(o.Litres) / r.expected
	if r.coarse = uncertainty > coarseRatio || ratio <= 0; r.coarse {
		r.residual = ratio - 1
	} else {
		r.residual = math.Log(ratio)
	}
}

// chain gives each row the noise it brings to a level fitted to all of them. Days in a row share their
// noise, so n daily readings say less than n times as much as one: row k gets
// Σ_j L_j·Cov(k, j)/L_k over all fitted rows j, which makes the variance of the mean over a chain of
// rows what the autoregression says it is. The sums run forward and backward in one pass each.
func (f *fit) chain() {
	before := f.lag(+1)
	after := f.lag(-1)
	for i := range f.rows {
		r, days := &f.rows[i], f.observations[i].Days()
		shared := f.noise.rho * f.noise.sum(days) * (before[i] + after[i]) / (days * days)
		scale := r.noise / f.noise.meanVariance(days) // as totalVariance has it beside meanVariance
		r.chained = r.noise + scale*f.noise.sd*f.noise.sd*shared
	}
}

// lag sums, for each row, the noise sums of the fitted rows that come before it in the given direction,
// each faded by the days between.
func (f *fit) lag(direction int) []float64 {
	sums := make([]float64, len(f.rows))
	carried, edge := 0.0, math.NaN()
	for n := range f.rows {
		i := n
		if direction < 0 {
			i = len(f.rows) - 1 - n
		}
		o := &f.observations[i]
		near, far := o.Start, o.End
		if direction < 0 {
			near, far = o.End, o.Start
		}
		if !math.IsNaN(edge) {
			carried *= math.Pow(f.noise.rho, max(float64(direction)*(near-edge), 0))
			edge = near
		}
		sums[i] = carried
		if o.named {
			continue
		}
		carried = carried*math.Pow(f.noise.rho, o.Days()) + f.noise.sum(o.Days())
		edge = far
	}
	return sums
}

// solve moves the estimate to the posterior mode of the linearised rows and gives the upper Cholesky
// factor of the posterior precision; ok is false if there is none or the move is not finite.
func (f *fit) solve() (factor blas64.Triangular, ok bool) {
	size := f.knots.count + nSeason
	a := blas64.Symmetric{N: size, Stride: size, Data: make([]float64, size*size), Uplo: blas.Upper}
	b := make([]float64, size)
	f.addPrior(a)
	for i := range f.rows {
		if !f.observations[i].named {
			f.addRow(a, b, &f.rows[i])
		}
	}
	if factor, ok = lapack64.Potrf(a); !ok {
		return factor, false
	}
	lapack64.Potrs(factor, blas64.General{Rows: size, Cols: 1, Stride: 1, Data: b})
	for i := range f.level {
		f.level[i] = f.startLevel + b[i]
	}
	for i := range f.season {
		f.season[i] = f.prior.mean[i] + b[f.knots.count+i]
	}
	return factor, !slices.ContainsFunc(b, func(x float64) bool { return !(math.Abs(x) < farthestLog) })
}

// addPrior adds the precision of the prior: a random walk between knots, all but free at the first.
func (f *fit) addPrior(a blas64.Symmetric) {
	add := func(i, j int, x float64) { a.Data[i*a.Stride+j] += x }
	add(0, 0, 1/(wideLevel*wideLevel))
	for i := range f.jumps {
		p := 1 / f.gapVariance(i)
		add(i, i, p)
		add(i+1, i+1, p)
		add(i, i+1, -p)
	}
	for i, sd := range f.prior.sd {
		add(f.knots.count+i, f.knots.count+i, 1/(sd*sd))
	}
}

func (f *fit) gapVariance(gap int) float64 { return f.perDay*f.knots.step + f.jumps[gap] }

// addRow adds a row to the normal equations of the change from the prior mean. Only the knots of the
// interval and the season take part.
func (f *fit) addRow(a blas64.Symmetric, b []float64, r *row) {
	weight := r.weight / (r.chained + r.measuring)
	working := r.residual + f.linear(r)
	n := f.knots.count
	for i, x := range r.byKnot {
		at := r.firstKnot + i
		b[at] += weight * x * working
		line := a.Data[at*a.Stride:]
		for j := i; j < len(r.byKnot); j++ {
			line[r.firstKnot+j] += weight * x * r.byKnot[j]
		}
		for j, y := range r.bySeason {
			line[n+j] += weight * x * y
		}
	}
	for i, x := range r.bySeason {
		b[n+i] += weight * x * working
		line := a.Data[(n+i)*a.Stride:]
		for j := i; j < nSeason; j++ {
			line[n+j] += weight * x * r.bySeason[j]
		}
	}
}

// linear gives the row times the change from the prior mean.
func (f *fit) linear(r *row) (sum float64) {
	for i, x := range r.byKnot {
		sum += x * (f.level[r.firstKnot+i] - f.startLevel)
	}
	for i, x := range r.bySeason {
		sum += x * (f.season[i] - f.prior.mean[i])
	}
	return sum
}

// spreadParameters gives each row the posterior variance of its expected total. It uses up the factor.
func (f *fit) spreadParameters(factor blas64.Triangular) bool {
	inverse, ok := lapack64.Potri(factor)
	if !ok {
		return false
	}
	var at []int // unknowns of a row and their weights
	var x []float64
	for k := range f.rows {
		r := &f.rows[k]
		at, x = at[:0], append(append(x[:0], r.byKnot...), r.bySeason[:]...)
		for i := range r.byKnot {
			at = append(at, r.firstKnot+i)
		}
		for i := range r.bySeason {
			at = append(at, f.knots.count+i)
		}
		sum := 0.0
		for i := range at {
			line := inverse.Data[at[i]*inverse.Stride:]
			sum += x[i] * x[i] * line[at[i]]
			for j := i + 1; j < len(at); j++ {
				sum += 2 * x[i] * x[j] * line[at[j]]
			}
		}
		r.parameter = max(sum, 0)
	}
	return true
}
