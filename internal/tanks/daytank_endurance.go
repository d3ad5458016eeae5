package tanks

import (
	"time"

	"overwinter/internal/units"
)

// Endurance is how long a day tank lasts from a level when the fill pump does not run.
type Endurance struct {
	ToLow   time.Duration // until the low-level float trips; 0 below it, and where there is none
	ToEmpty time.Duration // until the engines' suction draws air
	ToStop  time.Duration // until the engines stop: the timer or the air, whichever comes first
	// Holds tells that the hand pump brings in as much as burns: the level does not fall and the times
	// above are not set.
	Holds bool
}

// Endurance tells how long the engines run from a level at a burn, while a hand pump brings in a rate of its
// own (0 for none): every time is volume / (burn − hand). From a level below the float, the timer is
// reckoned from now. It refuses a day tank that does not validate, a level outside the tank, a burn outside
// 0.001 to 1e6 L/h and a hand pump that is negative.
func (d DayTank) Endurance(level units.Litres, burn, hand units.LitresPerHour) (Endurance, error) {
	if err := d.check(burn, slowest); err != nil {
		return Endurance{}, err
	}
	if err := d.checkLevel("level", level); err != nil {
		return Endurance{}, err
	}
	if !(hand >= 0 && hand <= fastest) {
		return Endurance{}, invalid(noAnswer, "hand pump", "%s L per hour: expected 0 to %s", plain(hand), plain(fastest))
	}
	if hand >= burn {
		return Endurance{Holds: true}, nil
	}
	falls := func(volume units.Litres) time.Duration {
		return hours(float64(max(0, volume)) / float64(burn-hand))
	}
	e := Endurance{ToEmpty: falls(level - d.Unusable)}
	e.ToStop = e.ToEmpty
	if d.Low > 0 {
		e.ToLow = falls(level - d.Low)
		e.ToStop = min(e.ToEmpty, e.ToLow+d.Timer())
	}
	return e, nil
}

// Stop is what ends the running of the engines once the low-level float has tripped.
type Stop string

// What may come first.
const (
	StopByTimer Stop = "timer" // the timer stops them while fuel is left
	StopByAir   Stop = "air"   // the suction draws air before the timer has run out: the timer protects nothing
)

// LowLevel is what follows when the low-level float has tripped and nothing is done.
type LowLevel struct {
	Usable  units.Litres  // fuel that the engines can reach when the float trips
	ToEmpty time.Duration // until it is burned
	First   Stop          // which comes first
	ToStop  time.Duration // until the engines stop
	Left    units.Litres  // usable fuel that is left when they stop
	// Hold is the least rate at which a hand pump holds the plant, in litres per hour: its burn.
	Hold units.LitresPerHour
	// LeastFloat is the lowest level, in litres, at which the float would leave the timer its full time:
	// unusable + burn · timer. It may lie above the capacity: then no float does.
	LeastFloat units.Litres
}

// AtLow sets the fuel below the low-level float against the timer at a burn. Where both run out at the same
// moment the timer counts as first. It refuses a day tank that does not validate or has no float, and a
// burn outside 0.001 to 1e6 L/h.
func (d DayTank) AtLow(burn units.LitresPerHour) (LowLevel, error) {
	if err := d.check(burn, slowest); err != nil {
		return LowLevel{}, err
	}
	if d.Low == 0 {
		return LowLevel{}, invalid(noAnswer, "low level", "the day tank has no low-level float: give its level")
	}
	timer := d.Timer()
	needs := units.Litres(float64(burn) * timer.Hours())
	l := LowLevel{Usable: d.Low - d.Unusable, Hold: burn, LeastFloat: d.Unusable + needs}
	l.ToEmpty = hours(float64(l.Usable) / float64(burn))
	l.First, l.ToStop = StopByAir, l.ToEmpty
	if l.Usable >= needs {
		l.First, l.ToStop, l.Left = StopByTimer, timer, l.Usable-needs
	}
	return l, nil
}

// checkLevel refuses a level outside the tank.
func (d DayTank) checkLevel(name string, level units.Litres) error {
	if !(level >= 0 && level <= d.Capacity) {
		return invalid(noAnswer, name, "%s L: expected 0 to the capacity of %s L", plain(level), plain(d.Capacity))
	}
	return nil
}
