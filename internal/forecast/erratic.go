package forecast

import "math"

// A plant whose fuel is displaced by wind, water or an intertie burns much in one month and next to nothing in another:
// the log of such a total is far below the usual as often as its reading is above, and says little of a year's sum. Its
// totals are fitted in litres about their mean, with a variation that is a share of it.

const (
	// erraticVariation is the squared coefficient of variation of the total of a month, season apart, from which a use is called
	// erratic: A. A. Syntetos, J. E. Boylan, J. D. Croston, "On the categorization of demand patterns", Journal of the
	// Operational Research Society 56 (2005), 0.49, of which a quarter to allow for the fit in logs. Of village plants that burn
	// little but diesel none comes near it (computed).
	erraticVariation = 0.49 / 4
	monthDays        = 30.0

	// A fit that takes a plant's lulls for faults, or its working months where lulls are the rule, has little noise left: what is named
	// for more than a quarter of the time, again and again, is no fault. An assumption.
	erraticShare = 0.25
	erraticRuns  = 4

	erraticStart  = 1.0  // deviation of days that the fit begins with: from below it would name the lulls before it knows of them
	erraticSeason = 1.0  // prior standard deviation of the first harmonic: water and wind have strong seasons of their own
	erraticRho    = 0.90 // of days, where readings do not tell: what displaces fuel lasts for weeks. An assumption.
)

// isErratic says whether a finished fit leaves so much to noise, or names so much, that the plant should be fitted as erratic.
func (f *fit) isErratic() bool {
	return f.noise.variation(monthDays) > erraticVariation || f.comesAndGoes()
}

// comesAndGoes says whether too much is named, too often, for faults. What is not above zero does not count.
func (f *fit) comesAndGoes() bool {
	named, days, runs, before := 0.0, 0.0, 0, false
	for i := range f.observations {
		o := &f.observations[i]
		if o.Litres <= 0 {
			continue
		}
		days += o.Days()
		if o.named {
			named += o.Days()
		}
		if o.named && !before {
			runs++
		}
		before = o.named
	}
	return runs >= erraticRuns && named > erraticShare*days
}

// asErratic begins the fit anew in litres. The season is the plant's own: none of its group is like it.
func (f *fit) asErratic(origin float64) *fit {
	observations := f.observations
	for i := range observations {
		observations[i].named = false
	}
	p := flatPrior()
	for i := range nHarmonic {
		k := float64(harmonicOf(i))
		p.sd[i] = erraticSeason / (k * k)
	}
	f.known.week = week{}
	e := newFit(observations, f.known, origin, p)
	e.erratic = true
	e.setNoise(noise{sd: erraticStart, rho: erraticRho, ofMean: true})
	return e
}

// startErratic puts the level at the mean rate. What is not above zero is named: it has most likely not been reported.
func (f *fit) startErratic() {
	litres, days := 0.0, 0.0
	for i := range f.observations {
		o := &f.observations[i]
		if o.named = o.Litres <= 0; !o.named {
			litres += float64(o.Litres)
			days += o.Days()
		}
	}
	f.startLevel = math.Log(litres / days)
	f.level = make([]float64, f.knots.count)
	for i := range f.level {
		f.level[i] = f.startLevel
	}
	f.linearise()
	f.weigh()
}

// centre lowers the level of a posterior by what its variance adds to the mean of the year to come: totals that are fitted in litres have their
// mean right as it is.
func (p *posterior) centre(scales []float64) {
	const months = 12
	variance := 0.0
	for i := range months {
		row := harmonicsAt(daysPerYear * float64(i) / months)
		variance += p.along(1, &row) / months
	}
	p.mean[0] -= variance * dot(scales, scales) / float64(len(scales)) / 2
}
