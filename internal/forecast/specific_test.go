package forecast

import (
	"math"
	"slices"
	"testing"

	"overwinter/internal/units"
)

// consumed gives accounts of 30 days and 1000 kWh each with these ln(litres/kWh); NaN for no fuel.
func consumed(specific ...float64) (accounts []account) {
	for i, x := range specific {
		a := account{Interval: Interval{Start: float64(30 * i), End: float64(30*i + 30)}, kWh: 1000, specific: x, verdict: missing}
		if !math.IsNaN(x) {
			a.fuel, a.verdict, a.Litres = true, unjudged, units.LitresAt15(1000*math.Exp(x))
		}
		accounts = append(accounts, a)
	}
	return accounts
}

// By hand. Of -1.29 -1.31 -1.28 -1.32 -1.30 -1.30 and 0.98: the level of each is the median of the six others. Sorted without the
// first: -1.32 -1.31 -1.30 -1.30 -1.28 0.98, median -1.30. Without the last, -1.32 -1.31 -1.30 -1.30 -1.29 -1.28: -1.30. The distances are
// 0.01, 0.01 (-1.31 from the median of -1.30 and -1.29, -1.295, which is 0.015), 0.02, 0.025 (-1.32 from -1.295), 0, 0
// and 2.28: the middle one is 0.015. Times 1.4826 and less what the median of six adds, √(1 + π/12) = 1.1233: 0.0198.
func TestTheLocalSpecificConsumptionIsTheMedianOfTheOthers(t *testing.T) {
	accounts := consumed(-1.29, -1.31, -1.28, -1.32, -1.30, -1.30, 0.98)
	s, ok := specificConsumption(accounts)
	if !ok || len(s.steps) > 0 {
		t.Fatalf("%v, steps %v", ok, s.steps)
	}
	within(t, "level of the first", accounts[0].usual, -1.30, 1e-12)
	within(t, "level of the last", accounts[6].usual, -1.30, 1e-12)
	within(t, "scatter", s.sd, 1.4826*0.015/math.Sqrt(1+math.Pi/12), 1e-12)
	// And 5 % a year over the 30 days to the nearest: √(0.02224² + 0.05²·30/365.25) = 0.02646.
	within(t, "deviation of the last", accounts[6].sd, 0.02646, 0.00001)
}

func TestAStepIsPlacedWhereItIs(t *testing.T) {
	u := make([]float64, 24)
	for i := range u {
		u[i] = -1.30 + []float64{0.01, -0.01, 0.02, -0.02}[i%4]
		if i >= 14 {
			u[i] -= 0.2
		}
	}
	u[9] = math.NaN() // no fuel, before the step
	u[11] += 0.8      // a fault near it
	accounts := consumed(u...)
	s, _ := specificConsumption(accounts)
	if !slices.Equal(s.steps, []int{13}) { // account 14, of which one before has no pair
		t.Fatalf("steps %v", s.steps)
	}
	within(t, "level before", accounts[13].usual, -1.30, 0.02)
	within(t, "level where there is no fuel", accounts[9].usual, -1.30, 0.02)
	within(t, "level after", accounts[14].usual, -1.50, 0.02)
	if s, _ := specificConsumption(consumed(u[:16]...)); len(s.steps) > 0 {
		t.Errorf("two intervals make a step: %v", s.steps)
	}
	if s, _ := specificConsumption(consumed(u[:17]...)); !slices.Equal(s.steps, []int{13}) {
		t.Errorf("three intervals make no step: %v", s.steps)
	}
}

func TestFiveIntervalsTellNoSpecificConsumption(t *testing.T) {
	if _, ok := specificConsumption(consumed(-1.3, -1.3, -1.3, -1.3, -1.3)); ok {
		t.Error("five are enough")
	}
}

// By hand: fuel and energy are level but for interval 3. Against the median of two either way the fuel is ln 1.2 up and the energy nothing,
// or the other way round.
func TestTheOddOneIsTheOneFartherFromWhatIsUsual(t *testing.T) {
	accounts := consumed(-1.3, -1.3, -1.3, -1.3+math.Log(1.2), -1.3, -1.3, -1.3)
	if !ratesOf(accounts).fuelIsOdd(3) {
		t.Error("20 % more fuel than usual, usual energy: the energy is called odd")
	}
	accounts[3].kWh, accounts[3].Litres = 1000/1.2, accounts[0].Litres
	if ratesOf(accounts).fuelIsOdd(3) {
		t.Error("usual fuel, 20 % less energy than usual: the fuel is called odd")
	}
}

// Years of twelve intervals of 30.4375 days. The seventh of each burns 1.5 times as much as its neighbours, and so it is with the energy. In
// the last of them the energy says 1.5, the fuel less. One year tells no season: against the neighbours, ln 1.5 = 0.405 is farther
// than any fuel below 1.5 and above 1/1.5. Five years tell one: m = 0.405 and v = 0.05², so that 0.405³/(0.405² + 0.05²) = 0.399 is usual,
// from which the energy is 0.006 off and fuel of 1.2 times, ln 1.2 = 0.182, is 0.217 off.
func TestTheSameTimeInOtherYearsTellsTheSeason(t *testing.T) {
	for _, tt := range []struct {
		years int
		fuel  float64
		odd   bool
	}{{1, 1.2, false}, {5, 1.2, true}, {5, 1.45, true}, {1, 0.5, true}} {
		accounts := consumed(make([]float64, 12*tt.years)...)
		for i := range accounts {
			a := &accounts[i]
			a.Start, a.End, a.Litres = 30.4375*float64(i), 30.4375*float64(i+1), 1000
			if i%12 == 6 {
				a.Litres, a.kWh = 1500, 1500
			}
		}
		at := 12*tt.years - 6
		accounts[at].Litres = units.LitresAt15(1000 * tt.fuel)
		if odd := ratesOf(accounts).fuelIsOdd(at); odd != tt.odd {
			t.Errorf("%d years, fuel %g times its neighbours': odd %v", tt.years, tt.fuel, odd)
		}
	}
}

// By hand: the median of 0.1 0.2 0.2 0.4 is 0.2; the distances 0.1 0 0 0.2 have the median 0.05, times 1.4826 is 0.07413.
// 0.2³/(0.2² + 0.07413²) = 0.17584. Three of 0.03 that agree to the digit still have 0.05 of noise: 0.03³/(0.03² + 0.05²) = 0.00794.
func TestWhatYearsSayCountsLessTheMoreTheyDiffer(t *testing.T) {
	within(t, "years that differ", shrunk([]float64{0.1, 0.2, 0.2, 0.4}), 0.17584, 1e-5)
	within(t, "years that agree", shrunk([]float64{0.03, 0.03, 0.03}), 0.00794, 1e-5)
}
