package forecast

import (
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Scenario is what somebody supposes of the future of a plant, beside what is known of it.
type Scenario struct {
	// Winter is the share of the observed years that the year after the origin is colder than, 0 to 1; nil leaves it open.
	Winter *float64
	// Changes of use from some day after the origin on: a load that comes (Ratio above 1), engines that need less (below 1),
	// standing by (0).
	Changes []Change
}

// Under gives the model as it forecasts under a scenario. The error is fault.Invalid: a change that begins before the origin's
// next day or cannot be reckoned with, a share that is none, or a winter where too few years of degree days are known.
func (m Model) Under(s Scenario) (Model, error) {
	first := calendar.Day(m.origin)
	for i, c := range s.Changes {
		if !c.usable() {
			return Model{}, fault.New(fault.Invalid, "supposed change %d, from %s: found a ratio of %g, a deviation of %g and an end on %s; expected a ratio of 0, or 1/%[6]g to %[6]g, a deviation of its log of 0 to %[7]g, and an end after the beginning or none",
				i+1, c.From, c.Ratio, c.SD, c.end(), mostRatio, mostChangeSD)
		}
		if c.From < first {
			return Model{}, fault.New(fault.Invalid, "supposed change %d begins on %s: expected %s or later, the day after the newest that is known", i+1, c.From, first)
		}
	}
	m.known.changes = slices.Concat(m.known.changes, s.Changes)
	if s.Winter == nil {
		return m, nil
	}
	if q := *s.Winter; !(q >= 0 && q <= 1) {
		return Model{}, fault.New(fault.Invalid, "a winter is stated as the share of years that it is colder than: expected 0 to 1, found %g", q)
	}
	if m.known.weather.years < weatherYears {
		return Model{}, fault.New(fault.Invalid, "%s has degree days of %d whole years: a winter can be supposed from %d years on; load degree days of its climate group",
			m.plant, m.known.weather.years, weatherYears)
	}
	m.known.winter = m.known.weather.winter(*s.Winter, m.origin)
	return m, nil
}

// end names the day on which a change ends.
func (c Change) end() string {
	if c.Until == 0 {
		return "no day"
	}
	return c.Until.String()
}
