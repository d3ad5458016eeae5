package forecast

import (
	"math"
	"testing"

	"overwinter/internal/units"
)

// By hand, months of 30 days. Of -1.30 six times, -1.27 and -1.30 the local level is -1.30 everywhere: -1.27 is 0.03 off, the others are
// not. After a step to -1.60 the six of them, one at -1.62, are held against -1.60 alone.
func TestLitresAreHeldAgainstTheLongRunBetweenTheSteps(t *testing.T) {
	accounts := consumed(-1.30, -1.30, -1.30, -1.30, -1.30, -1.30, -1.27, -1.30, -1.60, -1.60, -1.60, -1.62, -1.60, -1.60)
	s, ok := specificConsumption(accounts)
	if !ok || len(s.steps) != 1 || s.steps[0] != 8 {
		t.Fatalf("%v, steps %v", ok, s.steps)
	}
	for i, want := range []float64{0, 0, 0, 0, 0, 0, 0.03, 0, 0, 0, 0, -0.02, 0, 0} {
		within(t, "off the long run", accounts[i].booked, want, 1e-12)
	}
}

// By hand: 50 months, the newest five at -1.24, the others at -1.30. Of the two years before the newest month 24 others are within 730.5 days
// (720; the next would be 750), so that 25 count. The local levels of the newest five are the medians of the six months before
// and of those after: -1.30 (six of ten are), -1.30 (five of nine), -1.27 (four of eight), -1.24 (three of seven), -1.24 (two of six).
func TestTheLongRunIsThatOfTwoYearsEitherWay(t *testing.T) {
	u := make([]float64, 50)
	for i := range u {
		u[i] = -1.30
		if i >= 45 {
			u[i] = -1.24
		}
	}
	accounts := consumed(u...)
	if s, _ := specificConsumption(accounts); len(s.steps) != 0 {
		t.Fatalf("steps %v", s.steps)
	}
	mean := (22*-1.30 + -1.27 + 2*-1.24) / 25
	within(t, "the newest", accounts[49].booked, -1.24-mean, 1e-12)
	within(t, "the oldest", accounts[0].booked, 0, 1e-12)
}

// Three years of months with their energy. In the last half year the litres are 6 % too many for it, which is no step.
func TestWhatIsTooMuchForItsEnergyRaisesTheForecastLess(t *testing.T) {
	year := func(litres, load float64, told bool) float64 {
		var s Series
		for i := range 36 {
			wave, from := []float64{0.99, 1.01, 1.02, 0.98}[i%4], float64(epoch)+30*float64(i)
			o := Interval{Start: from, End: from + 30, Litres: 30000}
			kWh := 30000 / 0.27 * wave
			if i >= 30 {
				o.Litres *= units.LitresAt15(litres * load)
				kWh *= load
			}
			s.Intervals = append(s.Intervals, o)
			if told {
				s.Energy = append(s.Energy, Energy{Start: from, End: from + 30, KWh: kWh})
			}
		}
		m := Fit(s, epoch+1079, nil, nil, asIs())
		return math.Log(quantileOver(m, 0, 365, 0.5))
	}
	plain := year(1, 1, true)
	without, with := year(1.06, 1, false)-plain, year(1.06, 1, true)-plain
	if !(without > 0.03 && with > 0.5*without && with < 0.8*without) {
		t.Errorf("litres 6 %% too many raise the year by %.3f in logs without their energy and by %.3f with it", without, with)
	}
	within(t, "a load that grew in both", year(1, 1.06, true), year(1, 1.06, false), 0.002)
}
