package advice

import (
	"fmt"
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Supposition is what somebody supposes of a plant's future, beside what the ledger knows. What is nil is left open; a
// day from which something holds is then the first that can be.
type Supposition struct {
	// Winter is the share of the observed years, 0 to 1, that the year to come is colder than.
	Winter *float64 `json:"winter"`
	// LoadKW or LoadPercent is a mean load that comes on top, below 0 one that goes.
	LoadKW      *float64      `json:"load_kw"`
	LoadPercent *float64      `json:"load_percent"`
	LoadFrom    *calendar.Day `json:"load_from"`
	// StandbyFrom is the first day on which the plant burns nothing, StandbyUntil the first on which it runs again; nil is
	// never.
	StandbyFrom  *calendar.Day `json:"standby_from"`
	StandbyUntil *calendar.Day `json:"standby_until"`
	// EnginesPercent is how much less fuel the engines need for the same energy.
	EnginesPercent *float64      `json:"engines_less_percent"`
	EnginesFrom    *calendar.Day `json:"engines_from"`
}

// Beyond these a supposition is a slip. Common practice, no source.
const (
	mostSupposedKW      = 100_000.0
	mostSupposedPercent = 900.0
	mostLessPercent     = 99.0 // a hundredth is left: below it a plant stands by
)

// SupposedDays is how far after the as-of day something may begin: every plan looks so far.
const SupposedDays = planDays

// Nothing tells whether nothing is supposed.
func (s Supposition) Nothing() bool { return s == Supposition{} }

// Check tells whether a plant can be reckoned with under it: its days lie after the last day that is known, origin, and inside the
// plan that begins after the as-of day. The error is fault.Invalid with a field for each thing that is wrong, named as in JSON.
func (s Supposition) Check(asOf, origin calendar.Day) error {
	if s.Nothing() {
		return fault.New(fault.Invalid, "nothing is supposed: give a winter, a load, a standby or how much less fuel the engines need")
	}
	c := checkOf{first: origin + 1, last: asOf + SupposedDays}
	if w := s.Winter; w != nil && !(*w >= 0 && *w <= 1) {
		c.wrong("winter", "found %g: expected the share of years that it is colder than, 0 to 1, such as 0.9", *w)
	}
	c.load(s)
	c.standby(s)
	if p := s.EnginesPercent; p != nil && !(*p > 0 && *p <= mostLessPercent) {
		c.wrong("engines_less_percent", "found %g: expected more than 0 and less than 100, such as 8", *p)
	}
	c.day("engines_from", s.EnginesFrom, s.EnginesPercent != nil, "how much less fuel they need")
	if c.fields == nil {
		return nil
	}
	return fault.New(fault.Invalid, cannotBeSupposed).With(c.fields...)
}

const cannotBeSupposed = "this cannot be supposed"

// supposedWrong is the error about one field of a supposition.
func supposedWrong(where, format string, args ...any) error {
	return fault.New(fault.Invalid, cannotBeSupposed).With(fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

// checkOf gathers what is wrong with a supposition.
type checkOf struct {
	first, last calendar.Day
	fields      []fault.Field
}

func (c *checkOf) wrong(where, format string, args ...any) {
	c.fields = append(c.fields, fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

func (c *checkOf) load(s Supposition) {
	kW, percent := s.LoadKW, s.LoadPercent
	if kW != nil && percent != nil {
		c.wrong("load_percent", "the load is given in kW too: give the one that is known, and leave the other out")
	}
	if kW != nil && (!(math.Abs(*kW) <= mostSupposedKW) || *kW == 0) {
		c.wrong("load_kw", "found %g: expected a mean load up to %.0f kW, below 0 where it goes, and not 0", *kW, mostSupposedKW)
	}
	if percent != nil && (!(*percent >= -mostLessPercent && *percent <= mostSupposedPercent) || *percent == 0) {
		c.wrong("load_percent", "found %g: expected %.0f to %.0f, and not 0; a plant that burns nothing stands by", *percent, -mostLessPercent, mostSupposedPercent)
	}
	c.day("load_from", s.LoadFrom, kW != nil || percent != nil, "the load")
}

func (c *checkOf) standby(s Supposition) {
	c.day("standby_from", s.StandbyFrom, true, "")
	switch {
	case s.StandbyUntil == nil:
	case s.StandbyFrom == nil:
		c.wrong("standby_until", "the first day of the standby is missing: give it too")
	case *s.StandbyUntil <= *s.StandbyFrom:
		c.wrong("standby_until", "%s is not after the first day of the standby, %s: expected the first day on which the plant runs again", *s.StandbyUntil, *s.StandbyFrom)
	}
}

// day checks the day from which something holds, and that there is something that it is of.
func (c *checkOf) day(where string, day *calendar.Day, there bool, of string) {
	switch {
	case day == nil:
	case !there:
		c.wrong(where, "%s is missing: give it too, or leave the day out", of)
	case *day < c.first || *day > c.last:
		c.wrong(where, "found %s: expected a day from %s, the first that is not known yet, to %s", *day, c.first, c.last)
	}
}

// from fills the days that are left open.
func (s Supposition) from(first calendar.Day) Supposition {
	if s.LoadFrom == nil && (s.LoadKW != nil || s.LoadPercent != nil) {
		s.LoadFrom = &first
	}
	if s.EnginesFrom == nil && s.EnginesPercent != nil {
		s.EnginesFrom = &first
	}
	return s
}
