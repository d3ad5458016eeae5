package resupply

import (
	"math"
	"slices"
)

// law is a candidate: which years it is fitted to and of what kind it is.
type law struct {
	name   Law
	span   int // years before and with the last
	sloped bool
	least  int // dates in the record, for the law to be considered
}

// candidates are the laws, the simplest first.
var candidates = []law{
	{name: LawMean, span: NormalYears, least: LeastDates},
	{name: LawTrend, span: trendYears, least: firstScored + leastScored, sloped: true},
	{name: LawEmpirical, span: trendYears, least: leastEmpirical + leastScored},
}

const (
	firstScored    = 15 // dates in the thirty years before a year that counts as evidence
	leastScored    = 10 // years of evidence
	leastEmpirical = 30 // dates for the empirical law, evidence not counted
)

// points are past dates in order of the years: days count from an anchor.
type points struct {
	years, days []float64
}

// since keeps the years from one on.
func (p points) since(year float64) points {
	i, _ := slices.BinarySearch(p.years, year)
	return points{p.years[i:], p.days[i:]}
}

// end is the year after the last.
func (p points) end() float64 { return p.years[len(p.years)-1] + 1 }

// first keeps the first so many dates.
func (p points) first(n int) points { return points{p.years[:n], p.days[:n]} }

// fit fits the law to its years.
func (w law) fit(p points) (line, shape) {
	l := fitLine(p.years, p.days, w.sloped)
	if w.name != LawEmpirical {
		return l, student{l.df()}
	}
	residuals := make([]float64, len(p.days))
	for i := range residuals {
		residuals[i] = (p.days[i] - l.mean) / l.sd
	}
	return l, smooth(residuals)
}

// own gives the law's years of those before a year.
func (w law) own(p points, before float64) points { return p.since(before - float64(w.span)) }

// leastLikely keeps the logarithm of a probability finite.
const leastLikely = 1e-9

// evidence gives the years, by index, that laws are scored on: those of the last thirty that have enough dates in
// the thirty years before them.
func evidence(p points) []int {
	var all []int
	for i, year := range p.years {
		if year >= p.end()-NormalYears && len(p.first(i).since(year-NormalYears).years) >= firstScored {
			all = append(all, i)
		}
	}
	return all
}

// ahead scores the law on years foretold from those before them, as it is used: the logarithm of the probability
// of the day that it was. Dawid, Journal of the Royal Statistical Society A 147 (1984); the score is proper: Gneiting
// & Raftery, Journal of the American Statistical Association 102 (2007).
func (w law) ahead(p points, years []int) []float64 {
	all := make([]float64, len(years))
	for k, i := range years {
		year := p.years[i]
		l, s := w.fit(w.own(p.first(i), year))
		scale := l.predictionSD(year)
		u := (p.days[i] - l.at(year)) / scale
		half := 0.5 / scale
		all[k] = math.Log(math.Max(leastLikely, s.below(u+half)-s.below(u-half)))
	}
	return all
}

// choose takes the simplest law, unless another foretold the last years better by more than one standard
// error of the difference: Hastie, Tibshirani & Friedman, The Elements of Statistical Learning, 7.10.1.
func choose(p points) (law, []LawScore) {
	chosen, years := candidates[0], evidence(p)
	if len(years) < leastScored {
		return chosen, nil
	}
	best := chosen.ahead(p, years)
	told := []LawScore{{chosen.name, mean(best)}}
	for _, w := range candidates[1:] {
		if len(p.years) < w.least {
			continue
		}
		rival := w.ahead(p, years)
		told = append(told, LawScore{w.name, mean(rival)})
		if gain, se := meanDifference(rival, best); gain > se {
			chosen, best = w, rival
		}
	}
	return chosen, told
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// meanDifference gives the mean of a − b, pair by pair, and its standard error.
func meanDifference(a, b []float64) (gain, se float64) {
	d := make([]float64, len(a))
	for i := range d {
		d[i] = a[i] - b[i]
	}
	gain = mean(d)
	for i := range d {
		d[i] = square(d[i] - gain)
	}
	n := float64(len(d))
	return gain, math.Sqrt(mean(d) / (n - 1))
}
