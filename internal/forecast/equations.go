package forecast

import (
	"math"
	"slices"
)

// The unknowns of a fit, as changes from what is believed before: level and passing deviation at each
// knot in turn, oldest first, then the seasonal coefficients.

const (
	wideLevel   = 10.0 // prior standard deviation of the log level: as good as none
	farthestLog = 50.0 // that an estimate can move: beyond it the fit has run away
)

func (f *fit) size() int { return 2*f.knots.count + f.coefficients() }

// normalEquations sums the fitted rows over the knots and the season: the precision of the level at each
// knot, which stands for level and passing deviation alike since rows see their sum alone, and the right side.
func (f *fit) normalEquations() (data envelope, right []float64) {
	n, used := f.knots.count, f.coefficients()
	first := make([]int, n+used)
	for i := range n {
		first[i] = max(i-1, 0) // for the prior
	}
	for i := range f.rows {
		r := &f.rows[i]
		if last := r.firstKnot + len(r.byKnot) - 1; !f.observations[i].named {
			for k := r.firstKnot; k <= last; k++ {
				first[k] = min(first[k], r.firstKnot)
			}
		}
	}
	s := sums{data: newEnvelope(first), right: make([]float64, n), cross: make([]season, n)}
	for i, x := range f.season {
		s.moved[i] = x - f.prior.mean[i]
	}
	for i := range f.rows {
		if !f.observations[i].named {
			f.addRow(&s, &f.rows[i])
		}
	}
	s.whole.addTo(&s.block, 0, used)
	s.beyond.addTo(&s.block, nHarmonic, used)
	for i := range nHarmonic {
		for j := range i + 1 {
			s.block[i][j] += s.tones.product(i, j)
		}
	}
	for i := range used {
		line := s.data.rows[n+i]
		for k := range s.cross {
			line[k] = s.cross[k][i]
		}
		copy(line[n:], s.block[i][:i+1])
	}
	return s.data, f.doubled(s.right, s.season[:used])
}

// sums are the normal equations as they grow, with what concerns the season in the order in which rows add to it.
type sums struct {
	data   envelope
	right  []float64       // of knots,
	season season          // and of the season
	cross  []season        // of knots with the season
	block  [nSeason]season // of the season, lower triangle
	moved  season          // from its prior mean

	tones  tones   // of rows inside one day, from which follows what their harmonics add to the block
	beyond squares // the rest of such rows
	whole  squares // the other rows
}

// addRow adds a row to the normal equations. Only the knots of the interval and the season take part.
func (f *fit) addRow(s *sums, r *row) {
	weight, used := r.weight/(r.chained+r.measuring), f.coefficients()
	linear := s.moved.along(r.bySeason, used) // the row times the change from the prior mean
	for i, x := range r.byKnot {
		linear += x * (f.level[r.firstKnot+i] - f.startLevel)
	}
	working := weight * (r.residual - r.booked + linear)
	for i, x := range r.byKnot {
		at := r.firstKnot + i
		s.right[at] += x * working
		line := s.data.rows[at][r.firstKnot-s.data.first[at]:]
		for j, y := range r.byKnot[:i+1] {
			line[j] += weight * x * y
		}
	}
	if r.overtones != nil {
		s.addDay(r, weight, working, used)
		return
	}
	for i, x := range r.byKnot {
		addTimes(s.cross[r.firstKnot+i][:], r.bySeason[:used], weight*x)
	}
	addTimes(s.season[:], r.bySeason[:used], working)
	s.whole.add(r.bySeason, weight, &s.block, 0, used)
}

// addDay adds what concerns the season of a row inside one day, each of its numbers fetched once for all sums.
func (s *sums) addDay(r *row, weight, working float64, used int) {
	left, right := &s.cross[r.firstKnot], &s.cross[r.firstKnot+1]
	byLeft, byRight := weight*r.byKnot[0], weight*r.byKnot[1]
	sums, above := (*[nHarmonic]float64)(s.tones[1:]), (*[nHarmonic]float64)(s.tones[1+nHarmonic:])
	s.tones[0] += weight
	for i := range nHarmonic {
		x := r.bySeason[i]
		left[i] += byLeft * x
		right[i] += byRight * x
		s.season[i] += working * x
		sums[i] += weight * x
		above[i] += weight * r.overtones[i]
	}
	if used > nHarmonic {
		for i := nHarmonic; i < used; i++ {
			x := r.bySeason[i]
			left[i] += byLeft * x
			right[i] += byRight * x
			s.season[i] += working * x
		}
		s.beyond.add(r.bySeason, weight, &s.block, nHarmonic, used)
	}
}

// together is how many rows are added to the block at once: its sums are then fetched and put back once for all.
const together = 4

// squares are rows whose products are still to be added to the block.
type squares struct {
	waiting int
	seasons [together]*season
	weights [together]float64
}

// add adds a row, for lines from to to-1 of the block.
func (s *squares) add(row *season, weight float64, block *[nSeason]season, from, to int) {
	s.seasons[s.waiting], s.weights[s.waiting] = row, weight
	if s.waiting++; s.waiting == together {
		s.addTo(block, from, to)
	}
}

// addTo adds the products of the waiting rows to lines from to to-1 of the block.
func (s *squares) addTo(block *[nSeason]season, from, to int) {
	if s.waiting == 0 {
		return
	}
	for i := s.waiting; i < together; i++ {
		s.seasons[i], s.weights[i] = s.seasons[0], 0
	}
	a, b, c, d := s.seasons[0], s.seasons[1], s.seasons[2], s.seasons[3]
	for i := from; i < to; i++ {
		line := &block[i]
		x, y, z, w := s.weights[0]*a[i], s.weights[1]*b[i], s.weights[2]*c[i], s.weights[3]*d[i]
		for j := range line[:i+1] {
			line[j] += x*a[j] + y*b[j] + z*c[j] + w*d[j]
		}
	}
	s.waiting = 0
}

// coefficients gives how many of the seasonal coefficients are in use; rows have zeros for the others.
func (f *fit) coefficients() int {
	if f.known.weather.colder != nil {
		return firstEvent + len(f.events)
	}
	return f.events.coefficients()
}

// addTimes adds factor times x to a sum.
func addTimes(sum, x []float64, factor float64) {
	sum = sum[:len(x)]
	for i, y := range x {
		sum[i] += factor * y
	}
}

// doubled lays the values of knots out for level and passing deviation, and the season's behind them.
func (f *fit) doubled(knots, season []float64) []float64 {
	all := make([]float64, 0, f.size())
	for _, x := range knots {
		all = append(all, x, x)
	}
	return append(all, season...)
}

// room gives matrix number k of all unknowns for some data, with what was left in it.
func (f *fit) room(k int, data envelope) envelope {
	if !slices.Equal(f.roomsOf, data.first) {
		f.rooms, f.roomsOf = nil, data.first
	}
	for len(f.rooms) <= k {
		first := make([]int, f.size())
		for i := range f.knots.count {
			first[2*i], first[2*i+1] = 2*data.first[i], 2*data.first[i]
		}
		f.rooms = append(f.rooms, newEnvelope(first))
	}
	return f.rooms[k]
}

// precision fills a room with the posterior precision of all unknowns: that of the rows, and of the knots that of the law.
func (f *fit) precision(l law, data, p envelope) {
	n := f.knots.count
	for i := range n {
		from := data.first[i]
		level, passing := p.rows[2*i], p.rows[2*i+1]
		for j, x := range data.rows[i] {
			level[2*j], passing[2*j], passing[2*j+1] = x, x, x
			if from+j < i {
				level[2*j+1] = x
			}
		}
	}
	for i := range f.coefficients() {
		line, seen := p.rows[2*n+i], data.rows[n+i]
		for j, x := range seen[:n] {
			line[2*j], line[2*j+1] = x, x
		}
		copy(line[2*n:], seen[n:])
	}
	f.addPrior(l, p)
}

// addPrior adds the precision of the law: a random walk of the level, all but free at the first knot, and a
// passing deviation that is a stationary autoregression from knot to knot.
func (f *fit) addPrior(l law, p envelope) {
	p.add(0, 0, 1/(wideLevel*wideLevel))
	stay, fresh := f.fading(l)
	p.add(1, 1, 1/(l.passing*l.passing))
	for i := range f.jumps {
		a, b := 2*i, 2*i+2
		walk := 1 / f.gapVariance(l, i)
		p.add(a, a, walk)
		p.add(b, b, walk)
		p.add(b, a, -walk)
		p.add(a+1, a+1, stay*stay/fresh)
		p.add(b+1, b+1, 1/fresh)
		p.add(b+1, a+1, -stay/fresh)
	}
}

// logPrior gives the log of the determinant of the law's own precision of the knots, up to a constant.
func (f *fit) logPrior(l law) (sum float64) {
	_, fresh := f.fading(l)
	sum = -2*math.Log(l.passing) - float64(len(f.jumps))*math.Log(fresh)
	for i := range f.jumps {
		sum -= math.Log(f.gapVariance(l, i))
	}
	return sum
}

// fading gives how much of a passing deviation is left after the days between two knots, and the variance
// that comes anew.
func (f *fit) fading(l law) (stay, fresh float64) {
	stay = math.Exp(-f.knots.step / passingDays)
	return stay, l.passing * l.passing * (1 - stay*stay)
}

func (f *fit) gapVariance(l law, gap int) float64 {
	return driftPerDay(l.drift)*f.knots.step + f.jumps[gap]
}

func (f *fit) seasonVariance(l law, i int) float64 {
	sd := f.prior.sd[i]
	if i < nHarmonic {
		if f.prior.borrowed {
			sd *= l.strange
		} else {
			sd *= min(l.strange, mostUnknown)
		}
	}
	return sd * sd
}

// moveTo takes over a solution of the normal equations as the estimate.
func (f *fit) moveTo(move []float64) {
	for i := range f.level {
		f.passing[i] = move[2*i+1]
		f.level[i] = f.startLevel + move[2*i] + f.passing[i]
	}
	f.season = f.prior.mean
	for i, x := range move[2*f.knots.count:] {
		f.season[i] += x
	}
}

// sound says whether a move is finite and near enough to be believed.
func sound(move []float64) bool {
	for _, x := range move {
		if !(math.Abs(x) < farthestLog) {
			return false
		}
	}
	return true
}
