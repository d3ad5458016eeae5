package backtest

import (
	"context"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// Cohort is the fleet as it was known at one origin. All use of the consumption model is in this file.
type Cohort struct {
	origin calendar.Day
	series []forecast.Series // of the whole fleet, in its order
	lent   []*forecast.Lent
	groups map[string]*forecast.Group // by climate group
	fleet  forecast.Calibration
}

// At takes what every series of the fleet reported before an origin, and what of it each can lend to
// those that are forecast from there.
func (f *Fleet) At(ctx context.Context, origin calendar.Day) (*Cohort, error) {
	c := &Cohort{origin: origin, series: make([]forecast.Series, len(f.series)), lent: make([]*forecast.Lent, len(f.series)), groups: map[string]*forecast.Group{}}
	err := Spread(ctx, len(f.series), func(i int) {
		c.series[i] = known(f.series[i], origin)
		c.lent[i] = forecast.Lend(c.series[i], origin-1)
	})
	if err != nil {
		return nil, err
	}
	byGroup := map[string][]*forecast.Lent{}
	for i, s := range c.series {
		byGroup[s.Group] = append(byGroup[s.Group], c.lent[i])
	}
	for name, lent := range byGroup {
		c.groups[name] = forecast.NewGroup(lent)
	}
	c.fleet = forecast.Calibrate(c.series, origin-1, c.lent, c.groups)
	return c, nil
}

// known gives what the model may know of a series at an origin.
func known(s *Series, origin calendar.Day) forecast.Series {
	out := forecast.Series{Plant: s.ID, Group: s.Facts.Group}
	for _, u := range before(s.Usage, origin) {
		if u.Litres != nil {
			out.Intervals = append(out.Intervals, forecast.Interval{Start: float64(u.Start), End: float64(u.End), Litres: *u.Litres})
		}
		if u.Energy != nil {
			out.Energy = append(out.Energy, forecast.Energy{Start: float64(u.Start), End: float64(u.End), KWh: *u.Energy})
		}
	}
	if s.Facts.Tankage != nil {
		out.Facts.Tankage = *s.Facts.Tankage
	}
	if s.Facts.PeakKW != nil {
		out.Facts.PeakKW = *s.Facts.PeakKW
	}
	for _, d := range before(s.DegreeDays, origin) {
		out.Cold = append(out.Cold, forecast.Cold{Start: float64(d.Start), End: float64(d.End), DegreeDays: d.Sum})
	}
	return out
}

// model fits series number i with what the others of its climate group lend.
func (c *Cohort) model(i int) forecast.Model {
	s := c.series[i]
	return forecast.Fit(s, c.origin-1, c.lent[i], c.groups[s.Group], c.fleet)
}

// Later fits series number i of the fleet with all that it reported before a later origin. What the others lend and what the fleet teaches
// stay those of the cohort's own: they change slowly, and to find them anew takes most of the time.
func (c *Cohort) Later(f *Fleet, i int, origin calendar.Day) forecast.Model {
	s := known(f.series[i], origin)
	return forecast.Fit(s, origin-1, forecast.Lend(s, origin-1), c.groups[s.Group], c.fleet)
}

// paths simulates series number i from the origin on.
func (c *Cohort) paths(m forecast.Model, days int, o Options) forecast.Paths {
	return m.Simulate(c.origin-1, days, o.Paths, o.Seed)
}
