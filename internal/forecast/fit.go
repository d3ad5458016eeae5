package forecast

import (
	"math"

	"overwinter/internal/calendar"
)

// prior is what is believed of a plant's season before its own readings: coefficients about mean, each
// with standard deviation sd. A borrowed one is that of a group, from which a plant may be strange.
type prior struct {
	mean, sd season
	borrowed bool
}

// fit is one plant's regression in progress.
type fit struct {
	knots        knots
	prior        prior
	startLevel   float64
	observations []observation
	rows         []row
	events       events
	known        known
	harmonics    []season    // seasonal row of each day from firstDay on,
	overtones    []overtones // and its harmonics above that
	times        []float64   // by which use is known to be multiplied on each day,
	logTimes     []float64   // and its log
	firstDay     int
	jumps        []float64 // extra variance of the level between knot i and i+1, where load stepped
	declared     []bool    // those of them that were declared

	noise   noise
	erratic bool // fitted in litres: see asErratic
	law     law
	level   []float64 // at the knots, with what passes
	passing []float64 // of it
	season  season

	rooms   []envelope // for matrices of all unknowns, for data whose rows begin at roomsOf
	roomsOf []int
	reduced []system // see systems
}

// observation is an interval with the verdict on it.
type observation struct {
	Interval
	basis
	named bool // faulty: not fitted
}

// row is one interval linearised about the current estimate: Gauss-Newton on the log of its total.
type row struct {
	fixed     bool // inside one day: knots and season are weighed once and for all
	firstKnot int
	byKnot    []float64  // mean weight of the knots from firstKnot on, over the litres of the interval
	bySeason  *season    // the day's own where it is fixed
	overtones *overtones // of the day where it is fixed, else nil
	logRate   float64    // ln of the litres a day as reported
	median    float64    // total of the median days in litres,
	logMedian float64    // and ln of it a day
	expected  float64    // mean total in litres: more than that by what noise adds
	booked    float64    // of the residual what is taken for booked at the wrong time
	residual  float64    // relative: ln(litres/expected), or litres/expected - 1 where the measurement is coarse
	coarse    bool       // its value comes as near to zero as its uncertainty allows, so that it has no log
	measuring float64    // variance of the residual by the measurement
	total                // what day-to-day noise makes of it
	chained   float64    // noise with that shared with its neighbours: see chain
	parameter float64    // posterior variance of the expected total, relative
	weight    float64    // Huber's
}

// own is the variance of the residual about the true expected total.
func (r *row) own() float64 { return r.noise + r.measuring }

const (
	coarseRatio = 0.2 // a measurement less certain than this is fitted in litres, not in logs
	huberBound  = 1.5 // residuals beyond so many standard deviations lose weight
)

func newFit(observations []observation, k known, origin float64, p prior) *fit {
	f := &fit{prior: p, observations: observations, known: k, season: p.mean}
	f.knots = placeKnots(observations[0].Start, origin)
	f.jumps, f.declared = make([]float64, f.knots.count-1), make([]bool, f.knots.count-1)
	f.allowDeclared()
	f.passing = make([]float64, f.knots.count)
	f.law = usualLaw
	f.rows = make([]row, len(observations))
	f.setNoise(noise{sd: defaultSD, rho: defaultRho})
	f.firstDay = int(math.Floor(observations[0].Start))
	f.harmonics = make([]season, int(math.Ceil(origin))-f.firstDay)
	f.times, f.logTimes = make([]float64, len(f.harmonics)), make([]float64, len(f.harmonics))
	f.layOutKnown()
	f.layOutDays()
	f.layOutRows()
	return f
}

// layOutKnown works out by what the use of each day of the history is known to be multiplied.
func (f *fit) layOutKnown() {
	weekdays, weekday := f.known.week.factors(), weekdayOf(f.firstDay-1)
	for i := range f.times {
		changed := f.known.changed(f.firstDay + i)
		weekday = (weekday + 1) % 7
		f.times[i], f.logTimes[i] = weekdays[weekday]*changed, f.known.week[weekday]
		if changed != 1 {
			f.logTimes[i] += math.Log(changed)
		}
	}
}

// allowDeclared lets the level jump where a change was declared whose size is not sure: on its very day, so that no reading from before
// it tells of it.
func (f *fit) allowDeclared() {
	allow := func(day calendar.Day, variance float64) {
		if at := float64(day); variance > 0 && at > f.observations[0].Start && at < f.knots.first+float64(len(f.jumps))*f.knots.step {
			gap := f.knots.stepAt(at)
			f.jumps[gap] += variance
			f.declared[gap] = true
		}
	}
	for _, c := range f.known.changes {
		if c.Ratio > 0 {
			allow(c.From, c.SD*c.SD)
			allow(c.Until, c.SD*c.SD)
		}
	}
}

// layOutDays works out the seasonal row of each day of the history.
func (f *fit) layOutDays() {
	for i := range f.harmonics {
		f.harmonics[i] = f.events.ofDay(f.firstDay + i)
		f.harmonics[i][coldAt] = f.known.weather.on(f.firstDay + i)
	}
}

// layOutRows works out of rows inside one day all that no estimate changes.
func (f *fit) layOutRows() {
	f.overtones = make([]overtones, len(f.harmonics))
	for i := range f.overtones {
		f.overtones[i] = overtonesOf(&f.harmonics[i])
	}
	room := make([]float64, 2*len(f.rows))
	for i := range f.rows {
		o, r := &f.observations[i], &f.rows[i]
		r.logRate = o.logRate()
		if first, last := o.localDays(); first == last {
			knot, share := f.knots.weigh(o.middleOf(first))
			r.fixed, r.firstKnot, r.bySeason, r.overtones = true, knot, &f.harmonics[first-f.firstDay], &f.overtones[first-f.firstDay]
			r.byKnot = append(room[2*i:2*i:2*i+2], 1-share, share)
		}
	}
}

// logRate gives the log of the litres a day; it is no finite number where nothing was burned.
func (i Interval) logRate() float64 { return math.Log(float64(i.Litres) / i.Days()) }

// localDays gives the first and the last local day that an interval touches.
func (i Interval) localDays() (first, last int) {
	return int(math.Floor(i.Start)), int(math.Ceil(i.End)) - 1
}

// middleOf gives the moment that stands for the interval's part of a day: noon, if it is in it.
func (i Interval) middleOf(day int) float64 { return min(max(float64(day)+0.5, i.Start), i.End) }

// linearise works the rows out anew about the current estimate.
func (f *fit) linearise() {
	for i := range f.rows {
		f.expect(&f.observations[i], &f.rows[i])
	}
}

// expect works out the mean total of an interval, m = Σ o_d·exp(x_d'b) over its days with o_d the
// share of the day that it covers, and the derivative of ln m: Σ p_d x_d with p_d = o_d·exp(x_d'b)/m. That of
// an interval inside one day is the day's own row.
func (f *fit) expect(o *observation, r *row) {
	if r.fixed {
		day, _ := o.localDays()
		log := f.logRate(r.firstKnot, r.byKnot[1], r.bySeason)
		r.median, r.logMedian = o.Days()*f.times[day-f.firstDay]*exp(log), f.logTimes[day-f.firstDay]+log
	} else {
		f.expectOfDays(o, r)
	}
	f.compare(o, r)
}

// logRate gives ln of the litres a day by the knots left and right of a moment, by the weight of the second, and by the seasonal row.
func (f *fit) logRate(left int, right float64, row *season) float64 {
	return f.level[left]*(1-right) + f.level[left+1]*right + f.season.along(row, f.coefficients())
}

func (f *fit) expectOfDays(o *observation, r *row) {
	first, last := o.localDays()
	left, _ := f.knots.weigh(max(float64(first)+0.5, o.Start))
	right, _ := f.knots.weigh(min(float64(last)+0.5, o.End))
	if r.firstKnot = left; r.bySeason == nil {
		r.bySeason = new(season)
	}
	*r.bySeason = season{}
	r.byKnot = append(r.byKnot[:0], make([]float64, right-left+2)...)
	sum := 0.0
	for day := first; day <= last; day++ {
		covered := min(o.End, float64(day+1)) - max(o.Start, float64(day))
		knot, share := f.knots.weigh(o.middleOf(day))
		harmonics := &f.harmonics[day-f.firstDay]
		litres := covered * f.times[day-f.firstDay] * exp(f.logRate(knot, share, harmonics))
		r.byKnot[knot-left] += litres * (1 - share)
		r.byKnot[knot-left+1] += litres * share
		addTimes(r.bySeason[:], harmonics[:f.coefficients()], litres)
		sum += litres
	}
	for i := range r.byKnot {
		r.byKnot[i] /= sum
	}
	for i := range r.bySeason {
		r.bySeason[i] /= sum
	}
	r.median, r.logMedian = sum, math.Log(sum/o.Days())
}

// setNoise changes the noise and what each row has of it; rows are compared anew afterwards. Many a row is as long as
// the one before, and has the same.
func (f *fit) setNoise(n noise) {
	f.noise = n
	days, own := math.NaN(), total{}
	for i := range f.rows {
		if now := f.observations[i].Days(); now != days {
			days, own = now, n.total(now)
		}
		f.rows[i].total = own
	}
}

// compare sets a row's reading against what the current noise makes of its median days.
func (f *fit) compare(o *observation, r *row) {
	r.expected = r.median * r.raised
	uncertainty := float64(o.Sigma) / r.expected
	r.measuring = uncertainty * uncertainty
	ratio := float64(o.Litres) / r.expected
	if r.coarse = f.erratic || uncertainty > coarseRatio || ratio <= 0; r.coarse {
		r.residual, r.booked = ratio-1, 0
	} else {
		r.booked = o.booked
		r.residual = r.logRate - r.logMedian - r.lift // ln(ratio)
	}
}
