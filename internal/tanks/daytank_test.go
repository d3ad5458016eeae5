package tanks

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

const gallon = units.LitresPerUSGallon

// gallons makes a day tank of 100 US gal as plants have it: filled from three quarters to full, a float at a
// quarter, the lowest 3 gal out of reach. Common practice, no source.
func gallons() DayTank {
	return DayTank{Capacity: 100 * gallon, FillStart: 75 * gallon, FillStop: 100 * gallon, Low: 25 * gallon, Unusable: 3 * gallon}
}

// A fill of 25 gal in 10 to 15 minutes is 2.5 to 1.7 gal a minute, and at 9.6 gal an hour the pump rests
// 2.6 hours: common practice, no source; the arithmetic is by hand.
func TestADayTankFillsAndCyclesAsPlantsDo(t *testing.T) {
	d := gallons()
	near(t, "fill in gal", float64(d.FillVolume())/gallon, 25, 1e-9)
	for minutes, want := range map[time.Duration]float64{10: 2.5, 15: 1.67} {
		rate, err := d.PumpRate(minutes*time.Minute, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "gal per minute", float64(rate)/60/gallon, want, 0.005)
		burning, err := d.PumpRate(minutes*time.Minute, 9.6*gallon)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share of the burn in gal per hour", float64(burning-rate)/gallon, 9.6, 1e-9)
	}
	c, err := d.Cycle(9.6*gallon, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hours", c.Falling.Hours(), 2.6, 0.05)
	near(t, "fills a day", c.PerDay, 24*9.6/25, 1e-9)
}

// By hand: a band of 100 L at 40 L/h falls in 2.5 h. A pump of 540 L/h gains 500 L/h, so it fills in 0.2 h
// and moves 108 L; 2.7 h a cycle is 8.889 fills a day, and 8.889 · 108 L = 960 L is the day's burn.
func TestWhatPassesTheMeterInADayIsTheDaysBurn(t *testing.T) {
	d := DayTank{Capacity: 400, FillStart: 300, FillStop: 400}
	c, err := d.Cycle(40, 540)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "falling, h", c.Falling.Hours(), 2.5, 1e-9)
	near(t, "filling, h", c.Filling.Hours(), 0.2, 1e-9)
	near(t, "through, L", float64(c.Through), 108, 1e-9)
	near(t, "cycles a day", c.PerDay, 24/2.7, 1e-9)
	near(t, "metered a day, L", float64(c.Through)*c.PerDay, 960, 1e-9)

	rate, err := d.PumpRateOfCycle(162*time.Minute, 40) // 2.7 h
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pump rate from the cycle, L/h", float64(rate), 540, 1e-6)
	rate, err = d.PumpRate(12*time.Minute, 40) // 0.2 h
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pump rate from the fill, L/h", float64(rate), 540, 1e-9)
}

// By hand, for a tank of 400 L whose float trips at 100 L and whose lowest 20 L are out of reach:
//
//	from 350 L at 50 L/h: (350−100)/50 = 5 h to the float, (350−20)/50 = 6.6 h to the air; the timer of two
//	hours would stop at 7 h, so the air comes first.
//	from 350 L at 25 L/h: 10 h to the float, 13.2 h to the air, stopped by the timer at 12 h.
//	from 60 L at 10 L/h: below the float; 4 h to the air, stopped by the timer after 2 h.
//	from 15 L: below the suction, nothing is left.
//	from 350 L at 50 L/h with 30 L/h by hand: 12.5 h and 16.5 h; stopped by the timer at 14.5 h.
func TestADayTankLastsAsLongAsHandArithmeticSays(t *testing.T) {
	d := DayTank{Capacity: 400, FillStart: 300, FillStop: 400, Low: 100, Unusable: 20}
	for _, c := range []struct {
		level                  units.Litres
		burn, hand             units.LitresPerHour
		toLow, toEmpty, toStop float64
	}{
		{350, 50, 0, 5, 6.6, 6.6},
		{350, 25, 0, 10, 13.2, 12},
		{60, 10, 0, 0, 4, 2},
		{15, 10, 0, 0, 0, 0},
		{400, 10, 0, 30, 38, 32},
		{350, 50, 30, 12.5, 16.5, 14.5},
	} {
		e, err := d.Endurance(c.level, c.burn, c.hand)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hours to the float", e.ToLow.Hours(), c.toLow, 1e-9)
		near(t, "hours to the air", e.ToEmpty.Hours(), c.toEmpty, 1e-9)
		near(t, "hours to the stop", e.ToStop.Hours(), c.toStop, 1e-9)
		if e.Holds {
			t.Errorf("a hand pump of %v holds a burn of %v", c.hand, c.burn)
		}
	}
	if e, err := d.Endurance(200, 50, 50); err != nil || !e.Holds {
		t.Errorf("a hand pump that brings in what burns does not hold the plant: %+v, %v", e, err)
	}
	d.Low = 0
	if e, err := d.Endurance(350, 50, 0); err != nil || e.ToLow != 0 || e.ToStop != e.ToEmpty {
		t.Errorf("a tank without a float stops when it is empty: %+v, %v", e, err)
	}
}

// The median plant of a published list burns 9.6 gal an hour, so the usual timer of two hours needs 19.2 gal
// (arithmetic). With 22 gal within reach below the float the timer comes first and 2.8 gal are left; at the
// 13.5 gal an hour of a plant of 173 kW at 13 kWh a gallon it needs 27 gal, and the air comes first after
// 22/13.5 = 1.63 h.
func TestTheTimerAndTheFuelBelowTheFloatRaceAsPlantsKnow(t *testing.T) {
	d := gallons()
	l, err := d.AtLow(9.6 * gallon)
	if err != nil {
		t.Fatal(err)
	}
	if l.First != StopByTimer || l.ToStop != 2*time.Hour {
		t.Errorf("first comes %s after %v, want the timer after two hours", l.First, l.ToStop)
	}
	near(t, "usable, gal", float64(l.Usable)/gallon, 22, 1e-9)
	near(t, "left, gal", float64(l.Left)/gallon, 2.8, 1e-9)
	near(t, "least float, gal", float64(l.LeastFloat)/gallon, 22.2, 1e-9)
	near(t, "hold, gal an hour", float64(l.Hold)/gallon, 9.6, 1e-9)

	l, err = d.AtLow(173.0 / 13 * gallon)
	if err != nil {
		t.Fatal(err)
	}
	if l.First != StopByAir || l.Left != 0 {
		t.Errorf("first comes %s with %v L left, want the air with none", l.First, l.Left)
	}
	near(t, "hours", l.ToStop.Hours(), 22/(173.0/13), 1e-9)
	near(t, "least float, gal", float64(l.LeastFloat)/gallon, 3+26.6, 0.02)

	d.LowTimer = time.Hour // of a plant with a shorter one
	if l, err = d.AtLow(173.0 / 13 * gallon); err != nil || l.First != StopByTimer || l.ToStop != time.Hour {
		t.Errorf("a timer of one hour: %+v, %v", l, err)
	}
}

// By hand: 40 L/h and 60 L more in half an hour are 160 L/h; holding a level takes the burn; letting it fall
// by 10 L in half an hour takes 20 L/h less, and by 50 L nothing at all.
func TestAHandPumpHoldsAPlantAtItsBurn(t *testing.T) {
	d := DayTank{Capacity: 400, FillStart: 300, FillStop: 400, Low: 100}
	for _, c := range []struct {
		from, to units.Litres
		want     float64
	}{{100, 160, 160}, {100, 100, 40}, {100, 90, 20}, {100, 50, 0}} {
		rate, err := d.HandPump(c.from, c.to, 30*time.Minute, 40)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hand pump, L/h", float64(rate), c.want, 1e-9)
	}
}

// A pump-down of four minutes (common practice, no source) at 1500 L/h returns 100 L; the engines burn
// 40 L/h · 4/60 h = 2.667 L meanwhile. From 30 L, 20 of them out of reach, the pump draws air after
// 10/1540 h and has returned 1500 · 10/1540 = 9.740 L.
func TestAPumpDownReturnsWhatThePumpMoved(t *testing.T) {
	d := DayTank{Capacity: 400, FillStart: 300, FillStop: 400, Unusable: 20}
	r, err := d.PumpDown(400, 1500, 4*time.Minute, 40)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "returned, L", float64(r.Volume), 100, 1e-6)
	near(t, "level, L", float64(r.Level), 400-100-40.0*4/60, 1e-6)
	if r, err = d.PumpDown(30, 1500, 4*time.Minute, 40); err != nil {
		t.Fatal(err)
	}
	near(t, "returned before the air, L", float64(r.Volume), 1500.0*10/1540, 1e-6)
	near(t, "level at the air, L", float64(r.Level), 20, 0)
	if r, err = d.PumpDown(10, 1500, 4*time.Minute, 40); err != nil || r.Volume != 0 || r.Level != 10 {
		t.Errorf("from below the suction nothing returns: %+v, %v", r, err)
	}
}

func TestADayTankThatCannotBeIsRefused(t *testing.T) {
	nan := units.Litres(math.NaN())
	for _, d := range []DayTank{
		{},
		{Capacity: 400, FillStart: 360, FillStop: 320},
		{Capacity: 400, FillStart: 0, FillStop: 400},
		{Capacity: 400, FillStart: 200, FillStop: 440},
		{Capacity: 400, FillStart: nan, FillStop: 400},
		{Capacity: nan, FillStart: 300, FillStop: 400},
		{Capacity: 400, FillStart: 300, FillStop: 400, Unusable: 300},
		{Capacity: 400, FillStart: 300, FillStop: 400, Unusable: nan},
		{Capacity: 400, FillStart: 300, FillStop: 400, Low: 300},
		{Capacity: 400, FillStart: 300, FillStop: 400, Low: 10, Unusable: 20},
		{Capacity: 400, FillStart: 300, FillStop: 400, Low: nan},
		{Capacity: 400, FillStart: 300, FillStop: 400, LowTimer: -time.Second},
		{Capacity: 400, FillStart: 300, FillStop: 400, LowTimer: 49 * time.Hour},
	} {
		_, err := d.PumpRate(10*time.Minute, 20)
		wantInvalid(t, err, "the day tank cannot be used")
		_, err = d.Cycle(20, 0)
		wantInvalid(t, err, "the day tank cannot be used")
		_, err = d.Endurance(200, 20, 0)
		wantInvalid(t, err, "the day tank cannot be used")
		_, err = d.AtLow(20)
		wantInvalid(t, err, "the day tank cannot be used")
	}
}

func TestWhatADayTankCannotAnswerIsRefused(t *testing.T) {
	d := DayTank{Capacity: 400, FillStart: 300, FillStop: 400}
	nan := math.NaN()
	refused := func(_ any, err error) func(string) {
		return func(want string) { t.Helper(); wantInvalid(t, err, want) }
	}
	refused(d.PumpRate(0, 20))("fill time: 0s")
	refused(d.PumpRate(10*time.Minute, units.LitresPerHour(nan)))("burn: NaN")
	refused(d.Cycle(0, 0))("burn: 0 L per hour")
	refused(d.Cycle(40, 40))("pump rate: 40 L per hour")
	refused(d.PumpRateOfCycle(2*time.Hour, 40))("cycle: 2h0m0s")
	refused(d.Endurance(401, 40, 0))("level: 401 L")
	refused(d.Endurance(units.Litres(nan), 40, 0))("level: NaN")
	refused(d.Endurance(200, 40, -1))("hand pump: -1 L per hour")
	refused(d.AtLow(40))("low level: the day tank has no low-level float")
	refused(d.HandPump(500, 100, time.Hour, 40))("from: 500 L")
	refused(d.HandPump(100, 500, time.Hour, 40))("to: 500 L")
	refused(d.HandPump(100, 200, 0, 40))("time: 0s")
	refused(d.PumpDown(200, 0, time.Hour, 40))("pump-down rate: 0 L per hour")
	refused(d.PumpDown(200, 1500, 72*time.Hour, 40))("time: 72h0m0s")
}

func TestADayTankNeverLastsLongerAtAHigherBurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDayTank(t)
		level := units.Litres(rapid.Float64Range(0, float64(d.Capacity)).Draw(t, "level"))
		slow := units.LitresPerHour(rapid.Float64Range(1e-3, 1e4).Draw(t, "burn"))
		fast := slow * units.LitresPerHour(rapid.Float64Range(1, 100).Draw(t, "times"))
		a, err := d.Endurance(level, slow, 0)
		if err != nil {
			t.Fatal(err)
		}
		b, err := d.Endurance(level, fast, 0)
		if err != nil {
			t.Fatal(err)
		}
		if b.ToLow > a.ToLow || b.ToEmpty > a.ToEmpty || b.ToStop > a.ToStop {
			t.Fatalf("at %v L/h %+v, at %v L/h %+v", slow, a, fast, b)
		}
		if a.ToLow > a.ToEmpty || a.ToStop > a.ToEmpty || a.ToStop < 0 {
			t.Fatalf("out of order: %+v", a)
		}
	})
}

func TestAFloatAtItsLeastLevelLeavesTheTimerItsFullTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDayTank(t)
		burn := units.LitresPerHour(rapid.Float64Range(1e-3, 1e3).Draw(t, "burn"))
		l, err := d.AtLow(burn)
		if err != nil {
			t.Fatal(err)
		}
		if timer := l.First == StopByTimer; timer != (l.Usable >= l.LeastFloat-d.Unusable) || timer != (l.ToStop == d.Timer() && l.Left >= 0) {
			t.Fatalf("%+v with a timer of %v", l, d.Timer())
		}
		if l.LeastFloat >= d.FillStart*0.999 {
			return
		}
		d.Low = l.LeastFloat * 1.0001
		if l, err = d.AtLow(burn); err != nil || l.First != StopByTimer {
			t.Fatalf("%+v, %v", l, err)
		}
	})
}

// What is returned passes the meter again, so a day with a pump-down meters the burn and the return.
func TestFuelIsKeptThroughAPumpDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDayTank(t)
		level := units.Litres(rapid.Float64Range(0, float64(d.Capacity)).Draw(t, "level"))
		rate := units.LitresPerHour(rapid.Float64Range(1e-3, 1e4).Draw(t, "rate"))
		burn := units.LitresPerHour(rapid.Float64Range(0, 1e3).Draw(t, "burn"))
		running := time.Duration(rapid.Int64Range(int64(time.Second), int64(longestTimer)).Draw(t, "running"))
		r, err := d.PumpDown(level, rate, running, burn)
		if err != nil {
			t.Fatal(err)
		}
		burned := float64(burn) * r.Running.Hours()
		if r.Volume < 0 || r.Level < 0 || r.Level > level || math.Abs(float64(level-r.Level-r.Volume)-burned) > 1e-6*float64(d.Capacity)+1e-6 {
			t.Fatalf("from %v L: %+v and %v L burned", level, r, burned)
		}
	})
}

func drawDayTank(t *rapid.T) DayTank {
	d := DayTank{Capacity: units.Litres(rapid.Float64Range(10, 1e5).Draw(t, "capacity"))}
	of := func(name string, low, high units.Litres) units.Litres {
		return units.Litres(rapid.Float64Range(float64(low), float64(high)).Draw(t, name))
	}
	d.FillStop = of("stop", d.Capacity/2, d.Capacity)
	d.FillStart = of("start", d.FillStop/4, d.FillStop*0.99)
	d.Low = of("low", d.FillStart/100, d.FillStart*0.99)
	d.Unusable = of("unusable", 0, d.Low)
	d.LowTimer = time.Duration(rapid.Int64Range(int64(time.Minute), int64(longestTimer)).Draw(t, "timer"))
	return d
}
