package tanks

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// A day tank of 100 US gal filled from three quarters to full in 10 to 15 minutes, at a plant that burns
// 9.6 US gal an hour: common practice, no source; the arithmetic is by hand.
func TestADayTankFillsAndCyclesAsPlantsDo(t *testing.T) {
	const gallon = units.LitresPerUSGallon
	d := DayTank{Capacity: 100 * gallon, FillStart: 0.75, FillStop: 1}
	near(t, "fill in gal", float64(d.FillVolume())/gallon, 25, 1e-9)
	for minutes, want := range map[float64]float64{10: 2.5, 15: 1.67} {
		rate, err := d.PumpRate(minutes, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "gal per minute", rate/60/gallon, want, 0.005)
		burning, err := d.PumpRate(minutes, 9.6*gallon)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share of the burn in gal per hour", (burning-rate)/gallon, 9.6, 1e-9)
	}
	hours, err := d.CycleHours(9.6 * gallon)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hours", hours, 2.6, 0.05)
}

func TestADayTankThatCannotBeIsRefused(t *testing.T) {
	good := DayTank{Capacity: 400, FillStart: 0.75, FillStop: 1}
	nan := math.NaN()
	for _, d := range []DayTank{
		{}, {400, 0.9, 0.8}, {400, -0.1, 1}, {400, 0.5, 1.1}, {400, nan, 1}, {units.Litres(nan), 0.7, 1},
	} {
		_, err := d.PumpRate(10, 20)
		wantInvalid(t, err, "the day tank cannot be used")
		_, err = d.CycleHours(20)
		wantInvalid(t, err, "the day tank cannot be used")
	}
	_, err := good.PumpRate(0, 20)
	wantInvalid(t, err, "fill minutes: 0")
	_, err = good.PumpRate(10, nan)
	wantInvalid(t, err, "burn: NaN")
	_, err = good.CycleHours(0)
	wantInvalid(t, err, "burn: 0 L per hour")
}
