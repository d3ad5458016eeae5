package tanks

import "overwinter/internal/units"

// DayTank is the small tank beside the engines which a pump refills between two levels.
type DayTank struct {
	Capacity  units.Litres
	FillStart float64 // share of the capacity at which the pump starts: 0.75
	FillStop  float64 // share of the capacity at which the pump stops: 1
}

// Validate refuses a day tank without capacity, or whose levels are not 0 ≤ start < stop ≤ 1.
func (d DayTank) Validate() error {
	const what = "the day tank cannot be used"
	if !(d.Capacity > 0 && d.Capacity <= largest) {
		return invalid(what, "capacity", "%s L is no capacity: expected more than 0 and at most %s L",
			plain(d.Capacity), plain(largest))
	}
	if !(d.FillStart >= 0 && d.FillStart < d.FillStop && d.FillStop <= 1) {
		return invalid(what, "fill levels",
			"the pump starts at %s and stops at %s of the capacity: expected 0 ≤ start < stop ≤ 1",
			plain(d.FillStart), plain(d.FillStop))
	}
	return nil
}

// FillVolume is what the tank takes from start to stop of the pump, in litres, when nothing burns
// meanwhile.
func (d DayTank) FillVolume() units.Litres {
	return units.Litres(d.FillStop-d.FillStart) * d.Capacity
}

// PumpRate is the rate in litres per hour which the pump needs to fill from start to stop within
// fillMinutes while the engines burn burnLPerHour litres per hour: fill volume / time + burn. It
// refuses a day tank that does not validate, a time outside 1 minute to 1 day and a negative burn.
func (d DayTank) PumpRate(fillMinutes, burnLPerHour float64) (float64, error) {
	if err := d.Validate(); err != nil {
		return 0, err
	}
	if !(fillMinutes >= 1 && fillMinutes <= 24*60) {
		return 0, invalid("the pump rate cannot be computed", "fill minutes",
			"%s: expected 1 minute to one day", plain(fillMinutes))
	}
	if !(burnLPerHour >= 0 && burnLPerHour <= float64(largest)) {
		return 0, invalid("the pump rate cannot be computed", "burn", "%s L per hour: expected 0 to %s",
			plain(burnLPerHour), plain(largest))
	}
	return float64(d.FillVolume())*60/fillMinutes + burnLPerHour, nil
}

// CycleHours is the time in hours from stop to next start of the pump at a burn of burnLPerHour
// litres per hour: fill volume / burn. It refuses a day tank that does not validate and a burn below
// 0.001 L/h, at which the pump never starts again.
func (d DayTank) CycleHours(burnLPerHour float64) (float64, error) {
	if err := d.Validate(); err != nil {
		return 0, err
	}
	if !(burnLPerHour >= 1e-3 && burnLPerHour <= float64(largest)) {
		return 0, invalid("the cycle cannot be computed", "burn", "%s L per hour: expected 0.001 to %s",
			plain(burnLPerHour), plain(largest))
	}
	return float64(d.FillVolume()) / burnLPerHour, nil
}
