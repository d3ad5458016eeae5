package forecast

import (
	"math"

	"overwinter/internal/units"
)

// blockDays is the length of the steps in which level and passing deviation move in the future: finer
// ones cost time and change no sum that matters.
const blockDays = 7

// block is a run of days of the future, or of the past, that move together.
type block struct {
	days  float64 // covered
	since float64 // days from the origin to its middle; 0 before the origin
	level float64 // fitted log level where it lies before the origin
	past  bool
	known float64 // log of the mean of what is known to multiply its days

	year   int       // after the origin, from 0
	colder []float64 // in each of the weather years; nil where they are not known
	doubts []float64 // standard deviation of the log rate by each doubt
	other  float64   // variance of the log rate by both
	row    season
}

// Span is a stretch of the day line: days from Start to End.
type Span struct{ Start, End float64 }

func covered(spans []Span) (days float64) {
	for _, s := range spans {
		days += s.End - s.Start
	}
	return days
}

// blocks cuts spans, which follow each other, into blocks.
func (m Model) blocks(spans ...Span) (cut []block) {
	for _, s := range spans {
		cut = m.cut(cut, s)
	}
	return cut
}

func (m Model) cut(cut []block, s Span) []block {
	for from := s.Start; from < s.End; {
		to := min(from+blockDays, s.End)
		if from < m.origin {
			to = min(to, m.origin)
		}
		middle := (from + to) / 2
		b := block{days: to - from, since: max(middle-m.origin, 0), past: to <= m.origin, row: m.events.row(from, to)}
		b.known = math.Log(m.known.mean(from, to))
		if !b.past {
			m.doubt(&b, from, to)
		}
		if b.past {
			b.level = m.knots.at(m.level, middle)
		}
		cut = append(cut, b)
		from = to
	}
	return cut
}

// doubt works out what of a block of the future is not sure beside the state, its walk and its noise: the weather and declared changes.
func (m Model) doubt(b *block, from, to float64) {
	b.year, b.colder = int(yearAhead(from, m.origin)), m.known.weather.ahead(from, to, m.origin)
	if b.year == 0 && m.known.winter != nil {
		b.known += m.season[coldAt] * dot(m.known.winter, b.colder)
		b.colder = nil
	}
	for _, d := range m.known.doubts(int(m.origin)) {
		inside := max(min(to, float64(d.until))-max(from, float64(d.from)), 0) / (to - from)
		b.doubts = append(b.doubts, inside*d.sd)
	}
	b.other = dot(b.doubts, b.doubts)
	if n := float64(len(b.colder)); n > 0 {
		b.other += m.season[coldAt] * m.season[coldAt] * dot(b.colder, b.colder) / n
	}
}

// otherVariance gives the variance of the log of a total by the weather and by declared changes, to first order as totalVariance has it.
func (m Model) otherVariance(span []block, litres []float64, total float64) (sum float64) {
	var doubts []float64
	var years [][]float64 // colder than usual over the span, if the weather of a year ahead is that of each of those observed
	for i := range span {
		b, share := &span[i], litres[i]/total
		if b.colder != nil {
			for len(years) <= b.year {
				years = append(years, make([]float64, len(b.colder)))
			}
			addTimes(years[b.year], b.colder, share*m.season[coldAt])
		}
		if len(b.doubts) > len(doubts) {
			doubts = make([]float64, len(b.doubts))
		}
		addTimes(doubts, b.doubts, share)
	}
	for _, colder := range years { // each is drawn by itself
		sum += dot(colder, colder) / float64(len(colder))
	}
	return sum + dot(doubts, doubts)
}

// part is one component of the predictive distribution of a total: lognormal.
type part struct{ weight, mean, variance float64 } // of the total in litres, of its log

// below gives the probability of less than a total, given by its log.
func (p *part) below(logTotal float64) float64 {
	return math.Erfc((math.Log(p.mean)-p.variance/2-logTotal)/math.Sqrt(2*p.variance)) / 2
}

// parts gives the distribution of the total over spans as a mixture of lognormals: one for each law and
// each of the calibration's scales.
func (m Model) parts(spans ...Span) []part {
	span := m.blocks(spans...)
	noise := m.noise.totalVariance(covered(spans))
	litres := make([]float64, len(span))
	other := -1.0
	mixture := make([]part, 0, len(m.posteriors)*len(m.calibration.Scales))
	for i := range m.posteriors {
		p := &m.posteriors[i]
		for _, scale := range m.calibration.Scales {
			mean := 0.0
			for j := range span {
				b := &span[j]
				litres[j] = b.days * exp(p.logRate(b)+(p.varianceAt(b)+b.other)*scale*scale/2+m.noise.mean())
				mean += litres[j]
			}
			if other < 0 { // the shares of the litres hardly differ from law to law
				other = m.otherVariance(span, litres, mean)
			}
			variance := p.totalVariance(span, litres, mean) + other + noise
			mixture = append(mixture, part{p.weight / float64(len(m.calibration.Scales)), mean, variance * scale * scale})
		}
	}
	return mixture
}

// logRate gives the mean of ln rate in a block.
func (p *posterior) logRate(b *block) float64 {
	sum := b.level
	if !b.past {
		sum = p.mean[0] + p.mean[1]*fade(b.since)
	}
	for i, x := range b.row {
		sum += x * p.mean[2+i]
	}
	return sum + b.known
}

// fade gives what is left of a passing deviation after some days.
func fade(days float64) float64 { return exp(-days / passingDays) }

// varianceAt gives the variance of ln rate in a block, day-to-day noise apart.
func (p *posterior) varianceAt(b *block) float64 {
	left := fade(b.since)
	return p.along(left, &b.row) + driftPerDay(p.drift)*b.since + p.passing*p.passing*(1-left*left)
}

// along gives the variance of the state at the origin in the direction of level, what is left of the
// passing deviation, and the seasonal row.
func (p *posterior) along(left float64, row *season) (sum float64) {
	var direction [nState]float64
	direction[0], direction[1] = 1, left
	copy(direction[2:], row[:])
	for j := range nState {
		x := 0.0
		for i, y := range p.spread.column(j) {
			x += direction[i] * y
		}
		sum += x * x
	}
	return sum
}

// totalVariance gives the variance of the log of a total over blocks, noise apart: to first order it is
// that of the mean of the log rates, each weighted by its share of the litres.
func (p *posterior) totalVariance(span []block, litres []float64, total float64) float64 {
	var row season
	left, kernel, carried, walked := 0.0, 0.0, 0.0, 0.0
	toCome, before := 1.0, 0.0 // share of the litres that lie ahead, days since the origin of the block before
	for i := range span {
		b, share := &span[i], litres[i]/total
		for j, x := range b.row {
			row[j] += share * x
		}
		left += share * fade(b.since)
		carried *= fade(b.since - before) // Σ over earlier blocks of share·fade(days between)
		kernel += share * (share + 2*carried)
		carried += share
		walked += (b.since - before) * toCome * toCome // a step of the walk moves all that comes after it
		toCome, before = toCome-share, b.since
	}
	return p.along(left, &row) + driftPerDay(p.drift)*walked + p.passing*p.passing*max(kernel-left*left, 0)
}

func (m Model) usable(start, end float64) bool {
	return m.err == nil && len(m.posteriors) > 0 && end > start && end-start < farthestDay && m.known.mean(start, end) > 0
}

// Expected gives the mean of the total over a span of the day line, and its predictive standard
// deviation: of the parameters, of the level's drift and of what passes since the origin, and of the
// day-to-day noise. A day before the origin has the level fitted there and the uncertainty of the origin.
// Both are 0 for an empty span, for one in which the plant stands by, and for a model that is not usable.
func (m Model) Expected(start, end float64) (litres, sd units.LitresAt15) {
	if !m.usable(start, end) {
		return 0, 0
	}
	var first, second float64 // moments of the mixture
	for _, p := range m.parts(Span{start, end}) {
		first += p.weight * p.mean
		second += p.weight * p.mean * p.mean * math.Exp(p.variance)
	}
	return units.LitresAt15(first), units.LitresAt15(math.Sqrt(max(second-first*first, 0)))
}

// Quantiles gives quantiles of the total over a span of the day line without drawing paths. They agree
// with those of the paths but for what sums of lognormals differ from a lognormal. All are 0 for an empty span,
// for one in which the plant stands by, and for a model that is not usable.
func (m Model) Quantiles(start, end float64, ps ...float64) []units.LitresAt15 {
	found := make([]units.LitresAt15, len(ps))
	if !m.usable(start, end) {
		return found
	}
	mixture := m.parts(Span{start, end})
	for i, p := range ps {
		found[i] = units.LitresAt15(quantileOf(mixture, p))
	}
	return found
}

// quantileOf finds a quantile of a mixture by bisection on the log.
func quantileOf(mixture []part, p float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	const far = 9 // standard deviations that hold any quantile that can be asked for
	for _, c := range mixture {
		centre, sd := math.Log(c.mean)-c.variance/2, math.Sqrt(c.variance)
		low, high = min(low, centre-far*sd), max(high, centre+far*sd)
	}
	for high-low > 1e-9 {
		middle, below := (low+high)/2, 0.0
		for i := range mixture {
			below += mixture[i].weight * mixture[i].below(middle)
		}
		if below < p {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Exp((low + high) / 2)
}
