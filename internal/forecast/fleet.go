package forecast

import (
	"math"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

const (
	// unknownSeason is the prior standard deviation of the first harmonic of a plant whose climate
	// group has no long history; harmonic k gets 1/k² of it, as seasons are smooth. Winters at 1.5 times the summers, the median
	// of Alaskan village plants, are an amplitude of 0.2.
	unknownSeason = 0.16
	mostUnknown   = 3.0 // times that by which such a season may be stronger: beyond it nothing is known to lie
	// pooledSeason is the same about a pooled shape, where too few plants tell how they differ: half of
	// that amplitude.
	pooledSeason      = 0.1
	pooledSeasonCount = 2.0  // plants that it counts for
	leastPooledSeason = 0.02 // no two plants are the same
	noEffect          = 1e-4 // prior standard deviation of a coefficient that is not in use
	donorDays         = 700  // 24 months, less a late reading: from here on a plant lends its season
)

// Lent is what a plant's own history says of its season, to lend to the others of its climate group: the
// posterior means of the coefficients and their variances.
type Lent struct{ mean, variance season }

// Lend fits a plant by itself with what ends by the end of day origin; it gives nil if the plant has
// less than 24 months and does not know its season.
func Lend(s Series, origin calendar.Day) *Lent {
	m := Model{plant: s.Plant, origin: float64(origin) + 1, known: knownOf(s, float64(origin)+1)}
	observations := m.hold(m.take(s.Intervals), s.Energy)
	if !anyBurn(observations) || m.origin-observations[0].Start < donorDays {
		return nil
	}
	f := newFit(observations, m.known, m.origin, flatPrior())
	if !f.begin() || f.isErratic() {
		return nil
	}
	factor, ok := f.step()
	if !m.report(f) || !ok || !m.knowsSeason() {
		return nil
	}
	d := f.posterior(f.law, factor, make([]float64, f.size()))
	lent := &Lent{mean: f.season}
	for j := range nState {
		for i, x := range d.spread.column(j) {
			if i >= 2 {
				lent.variance[i-2] += x * x
			}
		}
	}
	return lent
}

// Group is what the plants of a climate group lend to each other.
type Group struct {
	count  int
	sorted [nHarmonic][]float64 // posterior means of each coefficient
	spread float64              // of the first harmonic, over the plants
	doubt  float64              // mean of the variances behind the means, for the first harmonic
}

// NewGroup gathers what plants lend; nil for one that lends nothing.
func NewGroup(lent []*Lent) *Group {
	g := &Group{}
	var offs []float64
	for i := range nHarmonic {
		k := float64(harmonicOf(i))
		for _, l := range lent {
			if l != nil {
				g.sorted[i] = append(g.sorted[i], l.mean[i])
				g.doubt += k * k * l.variance[i] / nHarmonic
			}
		}
		slices.Sort(g.sorted[i])
		centre := median(g.sorted[i])
		for _, v := range g.sorted[i] {
			offs = append(offs, math.Abs(v-centre)*k)
		}
	}
	if g.count = len(g.sorted[0]); g.count > 0 {
		g.spread = madToSD * median(offs)
		g.doubt /= float64(g.count)
	}
	return g
}

// without gives the prior that the others of the group make for a plant, and how many they are: the median
// of each coefficient, and a standard deviation that falls with the number of the harmonic. How much
// plants differ is estimated robustly, less what their own uncertainty explains, with pooledSeason as a prior for few
// donors. No group lends nothing.
func (g *Group) without(own *Lent) (p prior, donors int) {
	if g == nil {
		return flatPrior(), 0
	}
	if donors = g.count; own != nil {
		donors--
	}
	if donors <= 0 {
		return flatPrior(), 0
	}
	free := float64(donors - 1)
	differ := max(g.spread*g.spread-g.doubt, 0)
	variance := (pooledSeasonCount*pooledSeason*pooledSeason + free*differ) / (pooledSeasonCount + free)
	sd := max(math.Sqrt(variance+g.doubt/float64(donors)), leastPooledSeason)
	for i := range nHarmonic {
		p.mean[i] = medianWithout(g.sorted[i], own, i)
		p.sd[i] = sd / float64(harmonicOf(i))
	}
	p.withoutEvents()
	p.borrowed = true
	return p, donors
}

// medianWithout gives the median of sorted values without a plant's own.
func medianWithout(sorted []float64, own *Lent, coefficient int) float64 {
	if own == nil {
		return quantileSorted(sorted, 0.5)
	}
	at, _ := slices.BinarySearch(sorted, own.mean[coefficient])
	pick := func(i int) float64 { // of the values that are left
		if i >= at {
			i++
		}
		return sorted[i]
	}
	n := len(sorted) - 1
	return (pick((n-1)/2) + pick(n/2)) / 2
}

// Fit fits a plant. It uses nothing that ends after the end of day origin. G is the plant's climate group, nil if there is
// none; own is what the plant itself lent to it, nil for nothing: no plant borrows from itself, so that its own noise
// does not count twice. C is the fleet's calibration. A plant that cannot be forecast gives a model whose Err says why.
func Fit(s Series, origin calendar.Day, own *Lent, g *Group, c Calibration) Model {
	p, donors := g.without(own)
	m := fitPlant(s, origin, p, c)
	m.reportSeason(donors)
	return m
}

func (m *Model) knowsSeason() bool { return m.span >= donorDays && m.used >= donorDays }

func flatPrior() (p prior) {
	for i := range nHarmonic {
		k := float64(harmonicOf(i))
		p.sd[i] = unknownSeason / (k * k)
	}
	p.withoutEvents()
	return p
}

// withoutEvents says that no yearly event is known: those of a plant are found by its own fit.
func (p *prior) withoutEvents() {
	p.sd[coldAt] = coldSD
	for i := firstEvent; i < nSeason; i++ {
		p.sd[i] = noEffect
	}
}

// reportSeason says where the season of a plant that does not know its own comes from.
func (m *Model) reportSeason(donors int) {
	switch {
	case m.err != nil || m.knowsSeason():
	case donors > 0:
		m.notices.Add(notice.New(notice.Info, "season-borrowed", m.plant,
			"less than two years of its own: the season leans on %d plants of its climate group", donors))
	default:
		m.notices.Add(notice.New(notice.Caution, "season-unknown", m.plant,
			"less than two years of its own and no plant of its climate group to lend a season: the forecast is wide"))
	}
}
