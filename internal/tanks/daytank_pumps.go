package tanks

import (
	"time"

	"overwinter/internal/units"
)

// HandPump is the rate, in litres per hour, at which a hand pump brings the tank from one level to another
// in a time while the engines burn: burn + (to − from) / time. From a level to itself it is the rate that
// holds the plant. A result below 0 cannot be: 0 says that no pumping is needed. It refuses a day tank that
// does not validate, a level outside the tank, a time outside one second to two days and a burn outside 0
// to 1e6 L/h.
func (d DayTank) HandPump(from, to units.Litres, within time.Duration, burn units.LitresPerHour) (units.LitresPerHour, error) {
	if err := d.check(burn, 0); err != nil {
		return 0, err
	}
	if err := d.checkLevel("from", from); err != nil {
		return 0, err
	}
	if err := d.checkLevel("to", to); err != nil {
		return 0, err
	}
	if within < time.Second || within > longestTimer {
		return 0, invalid(noAnswer, "time", "%v: expected one second to %v", within, longestTimer)
	}
	return max(0, burn+units.LitresPerHour(float64(to-from)/within.Hours())), nil
}

// Return is fuel which an overfilled day tank pumps back to the tank before it.
type Return struct {
	Volume  units.Litres  // what goes back; it passes the fill meter again when the tank is next filled
	Level   units.Litres  // where the day tank stands afterwards
	Running time.Duration // how long the pump drew fuel; less than asked where it drew the tank dry first
}

// PumpDown tells what goes back when a pump of this rate runs for a time from a level, while the engines
// burn. What goes back is no consumption: unless it is written down as a transfer, the meter counts it as
// burned once more. It refuses a day tank that does not validate, a level outside the tank, a rate outside
// 0.001 to 1e6 L/h, a time outside one second to two days and a burn outside 0 to 1e6 L/h.
func (d DayTank) PumpDown(level units.Litres, rate units.LitresPerHour, running time.Duration, burn units.LitresPerHour) (Return, error) {
	if err := d.check(burn, 0); err != nil {
		return Return{}, err
	}
	if err := d.checkLevel("level", level); err != nil {
		return Return{}, err
	}
	if !(rate >= slowest && rate <= fastest) {
		return Return{}, invalid(noAnswer, "pump-down rate", "%s L per hour: expected %s to %s", plain(rate), plain(slowest), plain(fastest))
	}
	if running < time.Second || running > longestTimer {
		return Return{}, invalid(noAnswer, "time", "%v: expected one second to %v", running, longestTimer)
	}
	reach := hours(float64(max(0, level-d.Unusable)) / float64(rate+burn))
	r := Return{Running: min(running, reach)}
	r.Volume = units.Litres(float64(rate) * r.Running.Hours())
	r.Level = level - r.Volume - units.Litres(float64(burn)*r.Running.Hours())
	if reach <= running {
		r.Level = min(level, d.Unusable)
	}
	return r, nil
}
