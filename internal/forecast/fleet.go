package forecast

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

const (
	// unknownSeason is the prior standard deviation of the first harmonic of a plant whose climate
	// group has no long history; harmonic k gets 1/k of it. Winters at 1.5 times the summers, the median
	// of Alaskan village plants, are an amplitude of 0.2.
	unknownSeason = 0.3
	// pooledSeason is the same about a pooled shape, where too few plants tell how they differ: half of
	// that amplitude.
	pooledSeason      = 0.1
	pooledSeasonCount = 2.0  // plants that it counts for
	leastPooledSeason = 0.02 // no two plants are the same
	donorDays         = 700  // 24 months, less a late reading: from here on a plant lends its season
)

// Lent is what a plant's own history says of its season, to lend to the others of its climate group: the
// posterior means of the coefficients and their variances.
type Lent struct{ mean, variance season }

// Lend fits a plant by itself with what ends by the end of day origin; it gives nil if the plant has
// less than 24 months and does not know its season.
func Lend(s Series, origin calendar.Day) *Lent {
	m := Model{plant: s.Plant, origin: float64(origin) + 1}
	observations := m.take(s.Intervals)
	if !anyBurn(observations) || m.origin-observations[0].Start < donorDays {
		return nil
	}
	f := newFit(observations, m.origin, flatPrior())
	if !f.begin() {
		return nil
	}
	factor, ok := f.step()
	if !m.report(f) || !ok || !m.knowsSeason() {
		return nil
	}
	d := f.posterior(factor)
	lent := &Lent{mean: f.season}
	for i := range lent.variance {
		for _, x := range d.spread[1+i] {
			lent.variance[i] += x * x
		}
	}
	return lent
}

// Fit fits a plant. It uses nothing that ends after the end of day origin. Others is what the other plants
// of its climate group lend, in the order of the fleet, nil for those that lend nothing; own is what the
// plant itself lends. No plant borrows from itself, so that its own noise does not count twice.
func Fit(s Series, origin calendar.Day, own *Lent, others []*Lent) Model {
	var donors []*Lent
	for _, l := range others {
		if l != nil {
			donors = append(donors, l)
		}
	}
	p := flatPrior()
	if len(donors) > 0 {
		p = pool(donors).widened(own)
	}
	m := fitPlant(s, origin, p)
	m.reportSeason(len(donors))
	return m
}

func (m *Model) knowsSeason() bool { return m.span >= donorDays && m.used >= donorDays }

func flatPrior() (p prior) {
	for i := range p.sd {
		p.sd[i] = unknownSeason / float64(harmonicOf(i))
	}
	return p
}

// pool makes a prior of the donors' seasons: the median of each coefficient, and a standard deviation
// that falls with the number of the harmonic. How much plants differ is estimated robustly from the
// donors, less what their own uncertainty explains, with pooledSeason as a prior for few donors.
func pool(donors []*Lent) (p prior) {
	var offs []float64
	var uncertainty float64
	for i := range p.mean {
		k := float64(harmonicOf(i))
		values := make([]float64, len(donors))
		for j, d := range donors {
			values[j] = d.mean[i]
			uncertainty += k * k * d.variance[i] / float64(len(donors)*nSeason)
		}
		p.mean[i] = median(values)
		for _, v := range values {
			offs = append(offs, math.Abs(v-p.mean[i])*k)
		}
	}
	spread := madToSD * median(offs)
	free := float64(len(donors) - 1)
	variance := (pooledSeasonCount*pooledSeason*pooledSeason + free*max(spread*spread-uncertainty, 0)) / (pooledSeasonCount + free)
	variance += uncertainty / float64(len(donors))
	sd := max(math.Sqrt(variance), leastPooledSeason)
	for i := range p.sd {
		p.sd[i] = sd / float64(harmonicOf(i))
	}
	return p
}

// widened opens the prior for a plant whose own history says that it is not like its group, as a fish
// plant's among village plants: by the factor by which its season, fitted alone, lies farther from the
// pool than both spreads explain. Like the rest of its group it keeps the prior as it is.
func (p prior) widened(own *Lent) prior {
	if own == nil {
		return p
	}
	misfit := 0.0 // mean square, 1 where the spreads explain it
	for i, sd := range p.sd {
		off := own.mean[i] - p.mean[i]
		misfit += off * off / (sd*sd + own.variance[i]) / nSeason
	}
	for i := range p.sd {
		p.sd[i] *= math.Sqrt(max(misfit, 1))
	}
	return p
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
