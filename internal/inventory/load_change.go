package inventory

import (
	"cmp"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// LoadChange is a change of a plant's use that is known without its readings, past or to come. It says either how
// many times the use without it the plant burns, or which load comes on top. Changes that overlap multiply.
type LoadChange struct {
	Entry
	Plant string        `json:"plant"`
	From  calendar.Day  `json:"from"`
	Until *calendar.Day `json:"until,omitempty"` // the first day without it; nil is for good
	// Times is what the use is multiplied by; 0 is standing by.
	Times *float64 `json:"times,omitempty"`
	// Added is the mean load that comes on top at the plant's busbar; below 0 it is displaced or lost.
	Added *units.Kilowatts `json:"added_kw,omitempty"`
	// Uncertainty is one standard deviation as a percentage of the change; nil means DefaultLoadUncertainty.
	Uncertainty *float64  `json:"uncertainty_percent,omitempty"`
	Cause       LoadCause `json:"cause"`
	Note        string    `json:"note,omitempty"`
}

// DefaultLoadUncertainty is how far a change of load that somebody foresees is usually off, in per cent of the
// change, one standard deviation. Common practice, no source.
const DefaultLoadUncertainty = 30.0

// LoadCause is what changes a plant's use.
type LoadCause string

// The causes of a change of load.
const (
	LoadConnected LoadCause = "load-connected"
	LoadLost      LoadCause = "load-lost"
	LoadWind      LoadCause = "wind"
	LoadSun       LoadCause = "sun"
	LoadWater     LoadCause = "water"
	LoadIntertie  LoadCause = "intertie"
	LoadStandby   LoadCause = "standby"
	LoadEngine    LoadCause = "engine" // one that makes more of its fuel
	LoadOther     LoadCause = "other"
)

// LoadCauses lists the causes of a change of load.
func LoadCauses() []LoadCause {
	return []LoadCause{LoadConnected, LoadLost, LoadWind, LoadSun, LoadWater, LoadIntertie, LoadStandby, LoadEngine, LoadOther}
}

// Kind tells that the row is a change of load.
func (c *LoadChange) Kind() Kind { return KindLoadChange }

// PlantID gives the plant whose load changes.
func (c *LoadChange) PlantID() string { return c.Plant }

// LoadChanges gives the changes of the plant's load in order of their first day, those to come as well.
func (b *Book) LoadChanges() []*LoadChange {
	return sortedBy(b.given.LoadChanges, func(x, y *LoadChange) int { return cmp.Compare(x.From, y.From) })
}

// Beyond these a change of load is a slip. Common practice, no source.
const (
	mostTimes = 20.0
	mostAdded = 1e5 // kW

	oddTimes = 3.0 // above it a change is told of
)

// Check says what is wrong with the change's row; see [Plant.Check]. Its days may lie ahead.
func (c *LoadChange) Check(dir *Directory, _ time.Time) []fault.Field {
	var f findings
	f.entry(&c.Entry)
	if c.Void {
		f.id("plant", c.Plant)
		return f
	}
	f.plant(dir, c.Plant)
	f.day("from", c.From)
	if c.Until != nil {
		f.day("until", *c.Until)
		if *c.Until <= c.From {
			f.add("until", "%s is not after from, %s: expected the first day without the change, or blank where it is for good", *c.Until, c.From)
		}
	}
	f.oneChange(c)
	if c.Uncertainty != nil {
		f.within("uncertainty_percent", *c.Uncertainty, 0, 100, "%")
	}
	oneOf(&f, "cause", c.Cause, LoadCauses()...)
	f.note("note", c.Note)
	return f
}

// oneChange checks that the change is given once, as a ratio or as a load, and is one.
func (f *findings) oneChange(c *LoadChange) {
	switch {
	case c.Times == nil && c.Added == nil:
		f.add("times", "neither times nor added_kw: give the one that is known")
	case c.Times != nil && c.Added != nil:
		f.add("times", "both times and added_kw: give the one that is known and leave the other blank")
	case c.Times != nil && f.within("times", *c.Times, 0, mostTimes, ""):
		if *c.Times == 1 {
			f.add("times", "1 times the use changes nothing: expected less or more than 1, such as 1.10 for a tenth more")
		}
		if c.Cause == LoadStandby && *c.Times != 0 {
			f.add("times", "%s of a plant that stands by: expected 0", figure(*c.Times))
		}
	case c.Added != nil && f.within("added_kw", float64(*c.Added), -mostAdded, mostAdded, "kW"):
		if *c.Added == 0 {
			f.add("added_kw", "0 kW changes nothing: expected more or less than 0")
		}
		if c.Cause == LoadStandby {
			f.add("added_kw", "a plant that stands by adds no load: leave it blank and give times as 0")
		}
	}
}

// CodeLoadChangeOdd is the notice about a change of load that goes the other way than its cause, or is very large.
const CodeLoadChangeOdd = "load-change-odd"

// Doubts gives notices about values that are kept but look wrong. The row has passed Check.
func (c *LoadChange) Doubts(*Directory) []notice.Notice {
	more := c.Times != nil && *c.Times > 1 || c.Added != nil && *c.Added > 0
	odd := func(format string, args ...any) []notice.Notice {
		return []notice.Notice{notice.New(notice.Caution, CodeLoadChangeOdd, "plant "+c.Plant+", load changes", format, args...)}
	}
	switch {
	case c.Cause == LoadConnected && !more:
		return odd("the load connected from %s makes the plant burn less: check the sign, or the cause", c.From)
	case c.takesAway() && more:
		return odd("%s from %s makes the plant burn more: check the sign, or the cause", c.Cause, c.From)
	case c.Times != nil && *c.Times > oddTimes:
		return odd("from %s the plant is to burn %s times what it burns without the change: check the ratio", c.From, figure(*c.Times))
	}
	return nil
}

// takesAway tells whether the cause is one that saves fuel. An intertie may do either.
func (c *LoadChange) takesAway() bool {
	switch c.Cause {
	case LoadLost, LoadWind, LoadSun, LoadWater, LoadEngine:
		return true
	}
	return false
}
