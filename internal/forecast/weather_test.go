package forecast

import (
	"math"
	"math/rand/v2"
	"testing"

	"overwinter/internal/calendar"
)

// climate is the degree days of each day from epoch on: an invented place with 9 to 27 a day, 18 in the mean of the year, whose
// deviations fade by a fifth a day.
type climate struct{ usual, observed []float64 }

const meanCold = 18.0

func climateOf(days int, r *rand.Rand) (c climate) {
	const sd, rho = 4.0, 0.8
	off := sd * r.NormFloat64()
	for d := range days {
		usual := meanCold + 9*math.Cos(2*math.Pi*float64((epoch+calendar.Day(d)).YearDay())/365.25)
		c.usual = append(c.usual, usual)
		c.observed = append(c.observed, max(usual+off, 0))
		off = rho*off + sd*math.Sqrt(1-rho*rho)*r.NormFloat64()
	}
	return c
}

// colder adds degree days to the days from a up to b.
func (c climate) colder(a, b int, more float64) {
	for d := a; d < b; d++ {
		c.observed[d] += more
	}
}

// every gives the observations in spans of so many days.
func (c climate) every(step, a, b int) (out []Cold) {
	for ; a+step <= b; a += step {
		span := Cold{Start: float64(int(epoch) + a), End: float64(int(epoch) + a + step)}
		for _, x := range c.observed[a : a+step] {
			span.DegreeDays += x
		}
		out = append(out, span)
	}
	return out
}

// times multiplies the days of a life.
func (t truth) times(factor func(day int) float64) truth {
	litres := make([]float64, len(t.litres))
	for d, x := range t.litres {
		litres[d] = x * factor(d)
	}
	t.litres = litres
	return t
}

// heated adds to a life what the weather does to it.
func (t truth) heated(c climate, effect float64) truth {
	return t.times(func(d int) float64 { return math.Exp(effect * (c.observed[d] - c.usual[d]) / meanCold) })
}

func TestTheEffectOfColdIsKnownAsWellAsTheModelSays(t *testing.T) {
	t.Parallel()
	const effect, days = 0.25, 1826
	for what, steps := range map[string]struct{ use, cold, plants int }{
		"days by degree days of days":     {1, 1, 30},
		"weeks by degree days of days":    {7, 1, 60},
		"months by degree days of days":   {30, 1, 90},
		"months by degree days of months": {30, 30, 90},
	} {
		t.Run(what, func(t *testing.T) {
			plants := steps.plants / min(thinning, 6)
			r, inside, sum, variances := random(201), 0, 0.0, 0.0
			for range plants {
				c := climateOf(days, r)
				life := alaska().live(epoch, days, r).heated(c, effect)
				s := Series{Plant: "one", Intervals: life.every(steps.use, 0, days), Cold: c.every(steps.cold, 0, days)}
				m := fitFleet([]Series{s}, epoch+days-1)[0]
				mean, variance := mixed(m, func(p *posterior) (float64, float64) {
					return p.mean[2+coldAt], p.covariance(2+coldAt, 2+coldAt)
				})
				if math.Abs(mean-effect) <= 1.2816*math.Sqrt(variance) {
					inside++
				}
				sum, variances = sum+mean, variances+variance
			}
			n := float64(plants)
			t.Logf("mean %.3f, stated deviation %.3f", sum/n, math.Sqrt(variances/n))
			covers(t, "80 % about the effect", inside, plants)
			// The prior of 0 ± 0.3 draws the mean down by the share variance/0.09 of it.
			within(t, "mean effect", sum/n, effect*(1-variances/n/(coldSD*coldSD)), 3*math.Sqrt(variances/n/n))
		})
	}
}

func TestAColdYearDoesNotRaiseTheNext(t *testing.T) {
	const days, effect = 1826, 0.4
	r := random(202)
	c := climateOf(days+366, r)
	c.colder(days-365, days, 6) // a third colder all year: exp(0.4/3) is 14 % more fuel
	w := alaska()
	w.yearly, w.sd = 0.01, 0.05
	life := w.live(epoch, days+366, r)
	usual := life.total(days, days+365)
	s := Series{Plant: "one", Intervals: life.heated(c, effect).every(30, 26, days)}
	at := float64(epoch) + days
	misses := func(s Series) float64 {
		m := Fit(s, epoch+days-1, nil, nil, asIs())
		return math.Log(float64(m.Quantiles(at, at+365, 0.5)[0]) / usual)
	}
	without := misses(s)
	s.Cold = c.every(1, 0, days)
	with := misses(s)
	t.Logf("a usual year is missed by %.3f with degree days, %.3f without", with, without)
	if without < 0.05 {
		t.Errorf("without degree days a cold year raises the next by %.3f only: there is nothing to show", without)
	}
	// The cold year is one of five from which the usual is taken: 0.4/3/5 = 0.027 of it is left.
	within(t, "miss with degree days", with, 0.027, 0.02)
}

func TestTooFewDegreeDaysTellNothing(t *testing.T) {
	c := climateOf(800, random(203))
	at := float64(epoch) + 800
	if w := newWeather(c.every(1, 101, 800), at); w.years != 0 || w.colder != nil {
		t.Errorf("699 days of degree days are taken for %d years", w.years)
	}
	if w := newWeather(c.every(1, 100, 800), at); w.colder == nil {
		t.Error("700 days of degree days tell nothing")
	}
	if w := newWeather(c.every(1, 0, 800), float64(epoch)+699); w.colder != nil {
		t.Error("degree days after the origin are used")
	}
}

func TestHowMuchColderADayWasIsMeasuredAgainstItsTimeOfYear(t *testing.T) {
	const days = 1461
	c := climateOf(days, random(204))
	copy(c.observed, c.usual)
	c.colder(700, 730, 9) // half of the yearly mean of 18
	w := newWeather(c.every(1, 0, days), float64(epoch)+days)
	// The thirty days are in the mean and in the regression too: one year of four, a twelfth of it, with a weight of some 3
	// at their own time of year, so that about 0.5·30/1461·5 = 0.05 of them passes for usual.
	within(t, "a cold day", w.on(int(epoch)+715), 0.5, 0.06)
	within(t, "the same day a year later", w.on(int(epoch)+715+365), 0, 0.06)
	within(t, "half a year later", w.on(int(epoch)+900), 0, 0.03)
	within(t, "a day that nobody observed", w.on(int(epoch)+days), 0, 0)
}
