package tanks

import (
	"time"

	"overwinter/internal/units"
)

// DayTank is the small tank beside the engines which a fill pump refills between two levels. Each level is
// the observed volume below it, in litres; from the bottom up: Unusable, Low, FillStart, FillStop.
type DayTank struct {
	Capacity units.Litres
	// FillStart and FillStop are the levels at which the fill pump starts and stops: the fill band.
	FillStart, FillStop units.Litres
	// Low is the level of the low-level float, which starts the timer; 0 means that there is none.
	Low units.Litres
	// Unusable is what the engines' suction cannot reach.
	Unusable units.Litres
	// LowTimer is how long the engines may run once the float has tripped before the timer stops them, so
	// that they are not run dry and full of air; 0 means [DefaultLowTimer].
	LowTimer time.Duration
}

// What plants do where nothing else is written down: the gauge stands between three quarters and full, and
// two hours after the low-level float has tripped the plant stops. Common practice, no source.
const (
	DefaultFillStart = 0.75 // share of the capacity
	DefaultFillStop  = 1.0  // share of the capacity
	DefaultLowTimer  = 2 * time.Hour
)

const (
	// slowest is the least burn that is reckoned with: a day tank of 1000 L would last a century at it.
	slowest units.LitresPerHour = 1e-3
	fastest units.LitresPerHour = 1e6
	// longestTimer bounds the timer: what lets engines run for days protects nothing.
	longestTimer = 48 * time.Hour

	noDayTank = "the day tank cannot be used"
	noAnswer  = "the day tank cannot be reckoned"
)

// Validate refuses a day tank without capacity, levels that are not 0 ≤ unusable ≤ low < fill start <
// fill stop ≤ capacity (a low of 0 stands for no float), and a timer outside 0 to 48 hours.
func (d DayTank) Validate() error {
	switch {
	case !(d.Capacity > 0 && d.Capacity <= largest):
		return invalid(noDayTank, "capacity", "%s L is no capacity: expected more than 0 and at most %s L",
			plain(d.Capacity), plain(largest))
	case !(d.FillStart > 0 && d.FillStart < d.FillStop && d.FillStop <= d.Capacity):
		return invalid(noDayTank, "fill levels",
			"the pump starts at %s L and stops at %s L: expected 0 < start < stop ≤ the capacity of %s L",
			plain(d.FillStart), plain(d.FillStop), plain(d.Capacity))
	case !(d.Unusable >= 0 && d.Unusable < d.FillStart):
		return invalid(noDayTank, "unusable", "%s L cannot be reached: expected 0 to less than the %s L at which the pump starts",
			plain(d.Unusable), plain(d.FillStart))
	case d.Low != 0 && !(d.Low >= d.Unusable && d.Low < d.FillStart):
		return invalid(noDayTank, "low level",
			"the float trips at %s L: expected %s L, which the suction cannot reach, to less than the %s L at which the pump starts",
			plain(d.Low), plain(d.Unusable), plain(d.FillStart))
	case d.LowTimer < 0 || d.LowTimer > longestTimer:
		return invalid(noDayTank, "low-level timer", "%v: expected 0 (the usual two hours) to %v", d.LowTimer, longestTimer)
	}
	return nil
}

// Timer is the low-level timer, the usual two hours where none is set.
func (d DayTank) Timer() time.Duration {
	if d.LowTimer == 0 {
		return DefaultLowTimer
	}
	return d.LowTimer
}

// FillVolume is the fill band, in litres: what the tank takes from start to stop of the pump when nothing
// burns meanwhile.
func (d DayTank) FillVolume() units.Litres { return d.FillStop - d.FillStart }

// FillCycle is one round of the fill pump at a steady burn.
type FillCycle struct {
	Falling, Filling time.Duration // from stop to start of the pump, and from start to stop
	// Through is what the pump moves in one cycle, and a meter at its outlet counts: the fill band and what
	// burns while it fills. In litres.
	Through units.Litres
	PerDay  float64 // cycles in 24 hours
}

// Cycle tells how the pump works at a burn:
//
//	falling = band / burn,  filling = band / (pump − burn),  through = pump · filling
//
// A pump rate of 0 stands for one that is not known: the fill then takes no time. It refuses a day tank that
// does not validate, a burn outside 0.001 to 1e6 L/h, and a pump which the burn outruns.
func (d DayTank) Cycle(burn, pump units.LitresPerHour) (FillCycle, error) {
	if err := d.check(burn, slowest); err != nil {
		return FillCycle{}, err
	}
	band := float64(d.FillVolume())
	c := FillCycle{Falling: hours(band / float64(burn)), Through: d.FillVolume()}
	length := band / float64(burn)
	if pump != 0 {
		if !(pump > burn && pump <= fastest) {
			return FillCycle{}, invalid(noAnswer, "pump rate",
				"%s L per hour: expected more than the burn of %s L per hour, or the tank never fills", plain(pump), plain(burn))
		}
		filling := band / float64(pump-burn)
		c.Filling, c.Through = hours(filling), units.Litres(float64(pump)*filling)
		length += filling
	}
	c.PerDay = 24 / length
	return c, nil
}

// PumpRate is the rate of a fill pump, in litres per hour, that took this long from start to stop while the
// engines burned: band / time + burn. It refuses a day tank that does not validate, a time outside one
// second to two days and a burn outside 0 to 1e6 L/h.
func (d DayTank) PumpRate(filling time.Duration, burn units.LitresPerHour) (units.LitresPerHour, error) {
	if err := d.check(burn, 0); err != nil {
		return 0, err
	}
	if filling < time.Second || filling > longestTimer {
		return 0, invalid(noAnswer, "fill time", "%v: expected one second to %v", filling, longestTimer)
	}
	return units.LitresPerHour(float64(d.FillVolume())/filling.Hours()) + burn, nil
}

// PumpRateOfCycle is the rate of a fill pump, in litres per hour, that starts once in every cycle at this
// burn: band / (cycle − band / burn) + burn. It refuses what [DayTank.Cycle] refuses, and a cycle that is
// not longer than the tank takes to fall.
func (d DayTank) PumpRateOfCycle(cycle time.Duration, burn units.LitresPerHour) (units.LitresPerHour, error) {
	still, err := d.Cycle(burn, 0)
	if err != nil {
		return 0, err
	}
	if cycle <= still.Falling {
		return 0, invalid(noAnswer, "cycle", "%v: expected more than the %v which the tank takes from stop to start at this burn",
			cycle, still.Falling)
	}
	return d.PumpRate(cycle-still.Falling, burn)
}

// check refuses a day tank or a burn that cannot be reckoned with.
func (d DayTank) check(burn, least units.LitresPerHour) error {
	if err := d.Validate(); err != nil {
		return err
	}
	if !(burn >= least && burn <= fastest) {
		return invalid(noAnswer, "burn", "%s L per hour: expected %s to %s", plain(burn), plain(least), plain(fastest))
	}
	return nil
}

// forever is longer than anything a day tank can last.
const forever = 200 * 365 * 24 * time.Hour

// hours turns hours into a duration, no longer than forever.
func hours(h float64) time.Duration {
	if h >= forever.Hours() {
		return forever
	}
	return time.Duration(h * float64(time.Hour))
}
