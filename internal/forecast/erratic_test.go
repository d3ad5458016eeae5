package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// displaced are plants whose diesel is displaced, by the factor of each day on the use without it; its mean is 1.
var displaced = map[string]func(days int, r *rand.Rand) []float64{
	// Each month by itself is exponential, a gamma of shape 1.
	"months of any size": func(days int, r *rand.Rand) []float64 { return monthly(days, r.ExpFloat64) },
	// Two months of five burn a twentieth of what the others do.
	"months near zero": func(days int, r *rand.Rand) []float64 {
		return monthly(days, func() float64 {
			if r.Float64() < 0.4 {
				return 0.05 / 0.62
			}
			return 1 / 0.62
		})
	},
	// The wind blows for ten days on end in the mean, half of the time.
	"days of wind": func(days int, r *rand.Rand) (factors []float64) {
		windy := r.Float64() < 0.5
		for range days {
			if r.Float64() < 0.1 {
				windy = !windy
			}
			if windy {
				factors = append(factors, 0.2)
			} else {
				factors = append(factors, 1.8)
			}
		}
		return factors
	},
}

func monthly(days int, draw func() float64) (factors []float64) {
	for len(factors) < days {
		x := draw()
		for range 30 {
			factors = append(factors, x)
		}
	}
	return factors[:days]
}

// displacedPlant has 1,800 days of history and a year more. Its use is in intervals of so many days.
func displacedPlant(kind string, step int, r *rand.Rand) (s Series, life truth) {
	const days = 1800
	w := alaska()
	w.yearly = 0.02
	life = w.vary(0.1, r).live(epoch, days+366, r)
	factors := displaced[kind](days+366, r)
	life = life.times(func(d int) float64 { return factors[d] })
	return Series{Plant: "one", Intervals: life.every(step, 0, days)}, life
}

func TestDisplacedFuelIsToldFromNoise(t *testing.T) {
	t.Parallel()
	r := random(501)
	plants := 10 / min(thinning, 5)
	for kind := range displaced {
		for _, step := range []int{1, 30} {
			if step == 1 && kind != "days of wind" {
				continue
			}
			found, lent := 0, 0
			for range plants {
				s, _ := displacedPlant(kind, step, r)
				if m := Fit(s, epoch+1799, nil, nil, asIs()); m.erratic {
					found++
				}
				if Lend(s, epoch+1799) != nil {
					lent++
				}
			}
			t.Logf("%s, intervals of %d days: %d of %d are erratic, %d lend their season", kind, step, found, plants, lent)
			if found < plants*9/10 || lent > (plants+9)/10 {
				t.Errorf("%s, intervals of %d days: %d of %d are erratic, %d lend their season", kind, step, found, plants, lent)
			}
		}
	}
	for range plants {
		w := alaska()
		noise := monthly(1830, func() float64 { return math.Exp(0.2 * r.NormFloat64()) })
		life := w.live(epoch, 1830, r).times(func(d int) float64 { return noise[d] })
		s := Series{Plant: "one", Intervals: life.every(30, 0, 1830)}
		if m := Fit(s, epoch+1829, nil, nil, asIs()); m.erratic {
			t.Error("a plant with 20 % of noise in its months is erratic")
		}
		if Lend(s, epoch+1829) == nil {
			t.Error("a plant with 20 % of noise in its months lends no season")
		}
	}
}

// A camp burns a hundredth from October to April: harmonics cannot follow, and a fit in logs may take either part of the year for faults.
func TestAPlantThatIsNearlyShutForHalfOfTheYearIsForecast(t *testing.T) {
	const days, plants = 1830, 8
	for _, step := range []int{1, 7, 30} {
		r, sum := random(508), 0.0
		for range plants {
			life := alaska().live(epoch, days+366, r).times(func(d int) float64 {
				if day := (epoch + calendar.Day(d)).YearDay(); day > 130 && day < 270 {
					return 1
				}
				return 0.01
			})
			m := told(life.every(step, days%step, days), days)
			sum += math.Log(quantileOver(m, 0, 365, 0.5)/life.total(days, days+365)) / plants
		}
		// A median is below the mean that the fit has right, by half the variance of a year that it takes to be some 0.2.
		within(t, fmt.Sprintf("intervals of %d days: log of the median over what was burned", step), sum, -0.1, 0.15)
	}
}

// Seven months of 25 in gallons are more than a quarter, but they come and go three times only.
func TestAWrongUnitForMonthsOnEndIsStillAFault(t *testing.T) {
	intervals := alaska().live(epoch, 750, random(506)).every(30, 0, 750)
	for _, i := range []int{3, 4, 10, 11, 18, 19, 20} {
		intervals[i].Litres /= units.LitresPerUSGallon
	}
	m := Fit(Series{Plant: "one", Intervals: intervals}, epoch+749, nil, nil, asIs())
	if m.erratic || len(m.Faults()) != 7 {
		t.Errorf("erratic: %v, %d faults of 7", m.erratic, len(m.Faults()))
	}
}

func TestAnErraticUseIsSaidToBeSo(t *testing.T) {
	s, _ := displacedPlant("months near zero", 30, random(507))
	if m := Fit(s, epoch+1799, nil, nil, asIs()); !hasNotice(m, "erratic-use") || hasNotice(m, "faulty-intervals") {
		t.Errorf("%v", m.Notices())
	}
}

func TestTheYearOfADisplacedPlantIsCovered(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		kind         string
		step, plants int
	}{{"months of any size", 30, 100}, {"months near zero", 30, 100}, {"days of wind", 30, 100}, {"days of wind", 1, 40}} {
		plants := tt.plants / min(thinning, 10)
		t.Run(fmt.Sprintf("%s, intervals of %d days", tt.kind, tt.step), func(t *testing.T) {
			r, inside, ratio, squares, named := random(502), 0, 0.0, 0.0, 0
			for range plants {
				s, life := displacedPlant(tt.kind, tt.step, r)
				m := Fit(s, epoch+1799, nil, nil, Standard())
				at, burned := float64(epoch)+1800, units.LitresAt15(life.total(1800, 2165))
				q := m.Quantiles(at, at+365, 0.1, 0.9)
				if burned >= q[0] && burned <= q[1] {
					inside++
				}
				mean, _ := m.Expected(at, at+365)
				x := float64(burned/mean) - 1
				ratio, squares, named = ratio+x, squares+x*x, named+len(m.Faults())
			}
			n := float64(plants)
			t.Logf("burned over the mean less one: %.3f ± %.3f; %.1f intervals named a plant", ratio/n, math.Sqrt(squares)/n, float64(named)/n)
			// Months tell nothing of how days follow each other: what is assumed is a little too wide for these.
			coversAtLeast(t, "p10 to p90 of a year", inside, plants)
			if plants >= 100 && inside > 97*plants/100 { // fewer do not tell
				t.Errorf("p10 to p90 of a year holds %d of %d", inside, plants)
			}
			within(t, "burned over the mean, less one", ratio/n, 0, 3*math.Sqrt(squares)/n)
		})
	}
}

func TestPathsAgreeWithQuantilesOfADisplacedPlant(t *testing.T) {
	for kind := range displaced {
		s, _ := displacedPlant(kind, 30, random(503))
		s.Plant = kind
		m := Fit(s, epoch+1799, nil, nil, Standard())
		const count = 4000
		paths := m.Simulate(epoch+1799, 365, count, 9)
		for _, days := range []int{30, 182, 365} {
			mean, sd := m.Expected(m.origin, m.origin+float64(days))
			sum, below := 0.0, 0.0
			half := m.Quantiles(m.origin, m.origin+float64(days), 0.5)[0]
			for _, x := range totalsOf(paths, 0, days) {
				sum += x / count
				if x < float64(half) {
					below += 1.0 / count
				}
			}
			within(t, fmt.Sprintf("%s: mean of the paths over %d days", kind, days), sum/float64(mean), 1, 0.03+4*float64(sd/mean)/math.Sqrt(count))
			within(t, fmt.Sprintf("%s: share below the median over %d days", kind, days), below, 0.5, 4*0.5/math.Sqrt(count)+0.04)
		}
	}
}

func TestDisplacedPlantsTellACalibrationNothing(t *testing.T) {
	const days = 1830
	fleet, _ := restlessFleet(8, days, 504)
	want := calibrated(fleet, days)
	if slices.Equal(want.Scales, Standard().Scales) {
		t.Fatal("the scores of the fleet move no scale")
	}
	r := random(505)
	for i := range 4 {
		s, _ := displacedPlant("months near zero", 30, r)
		s.Plant, s.Facts = fmt.Sprint("displaced ", i), Facts{Tankage: 1e6}
		for j := range s.Intervals { // to the end of the history of the others
			s.Intervals[j].Start += 30
			s.Intervals[j].End += 30
		}
		fleet = append(fleet, s)
	}
	got := calibrated(fleet, days)
	if !slices.Equal(got.Laws, want.Laws) || !slices.Equal(got.Scales, want.Scales) || got.Tankage != want.Tankage {
		t.Errorf("laws, scales and sizes %v, want %v", got, want)
	}
}

func TestWhatIsNotSureOfADisplacedPlantDoesNotRaiseItsMean(t *testing.T) {
	var p posterior
	p.spread.column(0)[0] = 0.5
	// Scales of 1 and 2 square to 2.5 in the mean: a variance of 0.25·2.5 would raise the mean by half of it.
	p.centre([]float64{1, 2})
	within(t, "level", p.mean[0], -0.3125, 1e-12)
	p = posterior{}
	p.spread.column(2)[2] = 0.5 // the sine of the year: ½ of its variance in the mean over the year
	p.centre([]float64{1})
	within(t, "level by the season", p.mean[0], -0.0625, 1e-9)
}
