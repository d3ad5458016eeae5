package advice

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// tell puts into a plant's series what its book knows beside the usage intervals.
func tell(s *forecast.Series, b *inventory.Book, usages []inventory.Usage) {
	s.Intervals = intervals(b, usages)
	for i, u := range usages {
		if u.Energy != nil {
			s.Energy = append(s.Energy, forecast.Energy{Start: s.Intervals[i].Start, End: s.Intervals[i].End, KWh: *u.Energy})
		}
	}
	for _, d := range b.DegreeDays() {
		s.Cold = append(s.Cold, forecast.Cold{Start: float64(d.FirstDay), End: float64(d.LastDay + 1), DegreeDays: float64(d.Sum)})
	}
	s.Changes, _ = changes(b, usages)
	s.Facts.Tankage = b.Tankage()
}

// changes turns the plant's load changes into ratios of its use. A notice tells of those that cannot be turned.
func changes(b *inventory.Book, usages []inventory.Usage) ([]forecast.Change, notice.List) {
	var all []forecast.Change
	var notes notice.List
	for _, c := range b.LoadChanges() {
		ratio, known := ratioOf(c, b, usages)
		if !known {
			notes.Add(notice.New(notice.Caution, "load-change-unused", b.Plant.ID,
				"the load change from %s is left out: what the plant uses around that day is not known, so that its %.0f kW are no share of it; state times instead",
				c.From, float64(*c.Added)))
			continue
		}
		if c.Added != nil && (ratio <= leastRatio || ratio > largeRatio) {
			notes.Add(notice.New(notice.Serious, "load-change-beyond-load", b.Plant.ID,
				"the load change from %s of %+.0f kW would make %.2g times what the plant uses: expected %.2g to %.0f times; it is left out: correct it, or state times (0 for standing by)",
				c.From, float64(*c.Added), ratio, leastRatio, largeRatio))
			continue
		}
		change := forecast.Change{From: c.From, Ratio: ratio, SD: logSD(ratio, c)}
		if c.Until != nil {
			change.Until = *c.Until
		}
		all = append(all, change)
	}
	return all, notes
}

// ratioOf gives how many times the use without it the plant burns under a change; known is false where that cannot be said.
func ratioOf(c *inventory.LoadChange, b *inventory.Book, usages []inventory.Usage) (ratio float64, known bool) {
	if c.Times != nil {
		return *c.Times, true
	}
	added, from := float64(*c.Added), float64(c.From)
	end := min(from, float64(b.AsOf+1))
	if before := useOver(b, usages, end-year, end); before.known() {
		return max(0, 1+added/before.kW()), true
	}
	// Nothing is known of the time without it: what is known of the year with it holds it.
	if with := useOver(b, usages, from, from+year); with.known() && with.kW() > added {
		return with.kW() / (with.kW() - added), true
	}
	return 0, false
}

const (
	year = 365.0 // days

	// Beyond these a change in kW is taken for a slip of its unit or its plant. Common practice, no source.
	leastRatio = 0.01
	largeRatio = 10.0

	// fewestDays of usage say what a plant's mean load is. Common practice, no source.
	fewestDays = 30.0

	// kWhPerLitre is what a litre makes where the plant's own figure is not known. Common practice, no source.
	kWhPerLitre = 3.6

	hoursPerDay = 24
)

// use is what a plant burned over a stretch of time while it did not stand by.
type use struct {
	days       float64 // that usage covers
	litresADay float64
	perLitre   float64 // kWh
	measured   bool    // by the plant's own energy and fuel; else kWhPerLitre
}

// useOver adds up believed usage over a stretch of the day line. An interval that begins before or ends after counts by its part
// inside.
func useOver(b *inventory.Book, usages []inventory.Usage, from, to float64) use {
	var days, litres, energy, ofLitres float64
	for i, line := range intervals(b, usages) {
		u := usages[i]
		share := (min(line.End, to) - max(line.Start, from)) / line.Days()
		if share <= 0 || u.Quality == inventory.Doubtful || standsBy(b, (line.Start+line.End)/2) {
			continue
		}
		days, litres = days+share*line.Days(), litres+share*float64(u.Litres)
		if u.Energy != nil {
			energy, ofLitres = energy+share**u.Energy, ofLitres+share*float64(u.Litres)
		}
	}
	found := use{days: days, perLitre: kWhPerLitre}
	if days > 0 {
		found.litresADay = litres / days
	}
	if own := energy / ofLitres; inventory.PlausiblePerLitre(own) {
		found.perLitre, found.measured = own, true
	}
	return found
}

// known says whether it tells a mean load.
func (u use) known() bool { return u.days >= fewestDays && u.litresADay > 0 }

// kW is the mean load.
func (u use) kW() float64 { return u.litresADay * u.perLitre / hoursPerDay }

// standsBy tells whether the plant is declared to stand by at a moment of the day line.
func standsBy(b *inventory.Book, at float64) bool {
	day := calendar.Day(math.Floor(at))
	for _, c := range b.LoadChanges() {
		if c.Times != nil && *c.Times == 0 && c.From <= day && (c.Until == nil || day < *c.Until) {
			return true
		}
	}
	return false
}

// logSD is the standard deviation of the logarithm of a ratio. The lognormal with it reaches at twice its standard deviation the ratio
// that the change reaches at twice its own, r + 2d: exp(2s) = 1 + 2d/r. For a small d it is d/r.
func logSD(ratio float64, c *inventory.LoadChange) float64 {
	if ratio == 0 {
		return 0
	}
	percent := inventory.DefaultLoadUncertainty
	if c.Uncertainty != nil {
		percent = *c.Uncertainty
	}
	d := math.Abs(ratio-1) * percent / 100
	return math.Log1p(2*d/ratio) / 2
}
