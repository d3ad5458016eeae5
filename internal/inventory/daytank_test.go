package inventory

import (
	"testing"
	"time"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// The pump starts at three quarters of the gauge and the timer runs two hours: common practice, no source.
// Three quarters of the depth of a lying cylinder are 80.450 % of its volume (area of a circle's segment).
func TestADayTankIsFilledFromThreeQuartersOfItsGaugeWhereNothingElseIsSaid(t *testing.T) {
	volume := Tank{Role: DayTank, Shape: ShapeVolume, Capacity: ptr(units.Litres(400)), UnusableVolume: ptr(units.Litres(20))}
	lying := Tank{Role: DayTank, Shape: ShapeHorizontal, Diameter: ptr(units.Millimetres(1000)), Length: ptr(units.Millimetres(1000))}
	stated := volume
	stated.FillStart, stated.FillStop, stated.LowLevel = ptr(units.Litres(250)), ptr(units.Litres(380)), ptr(units.Litres(90))
	below := volume
	below.SafeFillVolume = ptr(units.Litres(360))
	for _, c := range []struct {
		name  string
		tank  Tank
		plant Plant
		want  tanks.DayTank
	}{
		{"gauge in volume", volume, Plant{}, tanks.DayTank{Capacity: 400, FillStart: 300, FillStop: 400, Unusable: 20}},
		{"lying cylinder", lying, Plant{}, tanks.DayTank{Capacity: 785.398, FillStart: 0.80450 * 785.398, FillStop: 785.398}},
		{"all stated", stated, Plant{LowTimerHours: ptr(1.5)},
			tanks.DayTank{Capacity: 400, FillStart: 250, FillStop: 380, Low: 90, Unusable: 20, LowTimer: 90 * time.Minute}},
		{"a stated safe fill stops the pump", below, Plant{}, tanks.DayTank{Capacity: 400, FillStart: 300, FillStop: 360, Unusable: 20}},
	} {
		got, err := c.tank.DayTank(&c.plant)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		near := func(got, want units.Litres) bool { return got > want-0.01 && got < want+0.01 }
		if !near(got.Capacity, c.want.Capacity) || !near(got.FillStart, c.want.FillStart) || !near(got.FillStop, c.want.FillStop) ||
			got.Low != c.want.Low || got.Unusable != c.want.Unusable || got.LowTimer != c.want.LowTimer {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
