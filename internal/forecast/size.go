package forecast

import (
	"math"
	"slices"

	"overwinter/internal/notice"
)

// Size is how the use of plants follows from something known of them: ln(L at 15 °C per day over it) is about Log,
// with standard deviation SD.
type Size struct{ Log, SD float64 }

// What the sizes of a fleet are before its own plants are seen: medians and 1.4826 times the median deviations of 49 and 48 village plants,
// computed from the Power Cost Equalization reports of the Alaska Energy Authority of 2016 to 2018 and a public table of
// their tankage. A median plant burns 0.45 times its tankage in a year, and 3.1 litres a day for each kW of its peak.
var (
	usualTankage = Size{Log: -6.71, SD: 0.62} // over litres of storage
	usualPeak    = Size{Log: 1.15, SD: 0.43}  // over kW
)

const (
	sizeCount  = 5.0  // plants that the usual sizes count for beside those of the fleet
	mostFigure = 1e12 // litres or kW: no plant has more
)

// sensible says whether a figure can be that of a plant; 0 is unknown.
func sensible(figure float64) bool { return figure > 1/mostFigure && figure < mostFigure }

// logRate gives what a size says of a plant's level; false where the figure, or the size, is not known.
func (s Size) logRate(figure float64) (log, variance float64, known bool) {
	if !(sensible(figure) && s.SD > 0) {
		return 0, 0, false
	}
	return s.Log + math.Log(figure), s.SD * s.SD, true
}

// learn takes the median of a fleet's logs of level over figure, and how far they lie from it.
func (s Size) learn(logs []float64) Size {
	n := float64(len(logs))
	if n == 0 {
		return s
	}
	slices.Sort(logs)
	centre := median(logs)
	offs := make([]float64, len(logs))
	for i, x := range logs {
		offs[i] = math.Abs(x - centre)
	}
	spread := madToSD * median(offs)
	all := n + sizeCount
	return Size{
		Log: (n*centre + sizeCount*s.Log) / all,
		SD:  math.Sqrt((n*spread*spread + sizeCount*s.SD*s.SD) / all),
	}
}

// learnSizes learns the sizes of a fleet from the levels of its plants; NaN stands for one that is not known.
func (c *Calibration) learnSizes(fleet []Facts, levels []float64) {
	var tankage, peak []float64
	for i, level := range levels {
		if math.IsNaN(level) {
			continue
		}
		if x := float64(fleet[i].Tankage); sensible(x) {
			tankage = append(tankage, level-math.Log(x))
		}
		if x := fleet[i].PeakKW; sensible(x) {
			peak = append(peak, level-math.Log(x))
		}
	}
	c.Tankage, c.Peak = c.Tankage.learn(tankage), c.Peak.learn(peak)
}

// guess gives the level of a plant from its facts alone: the surer of what its tanks and its peak say, since both go with the
// size of the place and err together. It reports false where nothing is known.
func (c *Calibration) guess(f Facts) (log, variance float64, known bool) {
	log, variance, known = c.Tankage.logRate(float64(f.Tankage))
	if l, v, ok := c.Peak.logRate(f.PeakKW); ok && (!known || v < variance) {
		return l, v, true
	}
	return log, variance, known
}

// withoutReadings makes the model of a plant of which only facts are known: their level, the season of its climate group,
// and the usual noise. It reports false where they tell nothing.
func (m *Model) withoutReadings(f Facts, p prior, c Calibration) bool {
	level, variance, known := c.guess(f)
	if !known {
		return false
	}
	fit := fit{prior: p}
	m.knots = knots{first: m.origin - knotStep, step: knotStep, count: 2}
	m.level, m.season = []float64{level, level}, p.mean
	m.noise, m.calibration = noise{sd: defaultSD, rho: defaultRho}, c
	for i, weight := range c.Laws {
		if weight < leastWeight {
			continue
		}
		l := laws[i]
		q := posterior{law: l, weight: weight}
		q.mean[0] = level
		q.spread.column(0)[0] = math.Sqrt(variance)
		q.spread.column(1)[1] = l.passing
		for j := range nSeason {
			q.mean[2+j] = p.mean[j]
			q.spread.column(2 + j)[2+j] = math.Sqrt(fit.seasonVariance(l, j))
		}
		m.posteriors = append(m.posteriors, q)
	}
	total := 0.0
	for i := range m.posteriors {
		total += m.posteriors[i].weight
	}
	for i := range m.posteriors {
		m.posteriors[i].weight /= total
	}
	m.notices.Add(notice.New(notice.Serious, "no-readings", m.plant,
		"no usable reading: the level is a guess from the size of the plant, right within %.1f times four times in five", math.Exp(1.28*math.Sqrt(variance))))
	return true
}

// typical gives the log of the plant's usual litres a day at the origin, season apart; NaN if there is no model.
func (m *Model) typical() (sum float64) {
	if m.err != nil || len(m.posteriors) == 0 {
		return math.NaN()
	}
	for i := range m.posteriors {
		sum += m.posteriors[i].weight * m.posteriors[i].mean[0]
	}
	return sum
}
