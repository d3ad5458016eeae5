package forecast

import (
	"math"
	"math/rand/v2"
	"testing"
)

// livesUnder draws plants whose laws follow the standard weights, without their groups, with their fits to eight years of
// months.
func livesUnder(t *testing.T, plants int, r *rand.Rand) (worlds []world, lives []truth, models []Model) {
	t.Helper()
	const days = 2922
	for range plants {
		w := alaska()
		l := drawLaw(r)
		w.yearly, w.passing = l.drift, l.passing
		w.sd = 0.05 + 0.1*r.Float64()
		for k := range 3 { // as flatPrior has it; no plant of the fleet is strange
			w.a[k], w.b[k] = 0.2/float64(k+1)*r.NormFloat64(), 0.2/float64(k+1)*r.NormFloat64()
		}
		life := w.live(epoch, days, r)
		m := fitOne(life.every(30, 12, days), days)
		if m.Err() != nil {
			t.Fatal(m.Err())
		}
		worlds, lives, models = append(worlds, w), append(lives, life), append(models, m)
	}
	return worlds, lives, models
}

// drawLaw draws one of the laws by the standard weights.
func drawLaw(r *rand.Rand) law {
	share := r.Float64()
	for i, w := range standardLaws() {
		if share -= w; share < 0 {
			return laws[i]
		}
	}
	return laws[len(laws)-1]
}

// mixed gives mean and variance over the laws of what one posterior has.
func mixed(m Model, of func(*posterior) (mean, variance float64)) (mean, variance float64) {
	square := 0.0
	for i := range m.posteriors {
		p := &m.posteriors[i]
		a, v := of(p)
		mean += p.weight * a
		square += p.weight * (a*a + v)
	}
	return mean, square - mean*mean
}

// covariance gives an entry of that of the state at the origin.
func (p *posterior) covariance(i, j int) (sum float64) {
	for k := max(i, j); k < nState; k++ {
		column := p.spread.column(k)
		sum += column[i] * column[j]
	}
	return sum
}

func TestStateAndLawAreKnownAsWellAsTheModelSays(t *testing.T) {
	t.Parallel()
	worlds, lives, models := livesUnder(t, 120/thinning, random(86))
	t.Run("state", func(t *testing.T) { checkStates(t, worlds, lives, models) })
	t.Run("law", func(t *testing.T) { checkLaws(t, worlds, models) })
}

// checkStates counts how often 80 % intervals of the state at the origin hold the truth.
func checkStates(t *testing.T, worlds []world, lives []truth, models []Model) {
	inside := map[string]int{}
	add := func(what string, truth, mean, variance float64) {
		if math.Abs(truth-mean) <= 1.2816*math.Sqrt(variance) {
			inside[what]++
		}
	}
	var know, guess float64 // squared errors of the passing deviation: of the model, and of who says there is none
	for i, m := range models {
		passes := last(lives[i].passes)
		mean, variance := mixed(m, func(p *posterior) (float64, float64) { return p.mean[1], p.covariance(1, 1) })
		add("what passes", passes, mean, variance)
		know, guess = know+(passes-mean)*(passes-mean), guess+passes*passes
		_, variance = mixed(m, func(p *posterior) (float64, float64) {
			return p.mean[0] + p.mean[1], p.covariance(0, 0) + 2*p.covariance(0, 1) + p.covariance(1, 1)
		})
		add("the level with what passes", last(lives[i].level)+passes, last(m.level), variance)
		row := harmonicRow(int(epoch))
		_, variance = mixed(m, func(p *posterior) (mean, variance float64) {
			for j, x := range row {
				mean += x * p.mean[2+j]
				for k, y := range row {
					variance += x * y * p.covariance(2+j, 2+k)
				}
			}
			return mean, variance
		})
		add("the season in January", worlds[i].season(int(epoch)), seasonAt(m, int(epoch)), variance)
	}
	for what, n := range inside {
		covers(t, "80 % about "+what, n, len(models))
	}
	if know > 0.9*guess {
		t.Errorf("squared errors of what passes: %.4f, and %.4f if nothing is said to pass", know, guess)
	}
}

// checkLaws holds how often the most believed drift is the true one against how much it is believed.
func checkLaws(t *testing.T, worlds []world, models []Model) {
	var right, believed, doubt float64
	for i, m := range models {
		weights := map[float64]float64{} // of each drift
		for _, p := range m.posteriors {
			weights[p.drift] += p.weight
		}
		best := 0.0
		for _, w := range weights {
			best = max(best, w)
		}
		if weights[worlds[i].yearly] == best {
			right++
		}
		believed += best
		doubt += best * (1 - best)
	}
	t.Logf("right %.0f, believed %.1f of %d", right, believed, len(models))
	// Each plant is a throw with the probability that it believes in: three standard deviations, and a tenth for the
	// noise that is taken as known.
	within(t, "plants whose drift is found", right, believed, 3*math.Sqrt(doubt)+0.1*float64(len(models)))
}

func TestWhatPassesIsToldFromWhatStays(t *testing.T) {
	t.Parallel()
	weight := func(passing float64) (share float64) {
		r := random(88)
		const plants = 8 / min(thinning, 3)
		for range plants {
			w := alaska()
			w.yearly, w.passing, w.sd = 0.02, passing, 0.05
			for _, p := range fitOne(w.live(epoch, 3652, r).every(14, 12, 3652), 3652).posteriors {
				if p.passing == 0.07 {
					share += p.weight / plants
				}
			}
		}
		return share
	}
	// Ten years hold thirty times 120 days: a deviation is known to 1/sqrt(2·30) = 13 % at best, and 0.02 and 0.07 are
	// a factor of 3.5 apart. The plants of each kind must be believed with more than two to one.
	if much, little := weight(0.07), weight(0.02); much < 0.67 || little > 0.33 {
		t.Errorf("weight of the large passing deviation: %.2f where it is true, %.2f where it is not", much, little)
	}
}

func TestThePassingDeviationFadesInTheForecast(t *testing.T) {
	// A model that knows its level and that use is 0.2 above it: the rate falls to the level as e^(-t/120).
	m := plain("a", "")
	m.noise.sd = 1e-9
	m.posteriors[0].mean[1] = 0.2
	var rates []float64
	for _, days := range []float64{0, 120, 240} {
		litres, _ := m.Expected(m.origin+days, m.origin+days+1)
		rates = append(rates, math.Log(float64(litres)/1000))
	}
	within(t, "after 120 days", rates[1]/rates[0], math.Exp(-1), 1e-6)
	within(t, "after 240 days", rates[2]/rates[0], math.Exp(-2), 1e-6)
}

func TestATotalHasTheVarianceOfTheMeanOfWhatPasses(t *testing.T) {
	// The mean over T days of a deviation that is 0 at the origin, fades in τ and has the variance 1 in the long run has
	// the variance 2τ/T - 2(τ/T)²(1 - e^(-T/τ)) - (τ/T)²(1 - e^(-T/τ))²: the stationary one less what is known at the
	// origin. For τ = 120 and T = 365: 0.65753 - 0.20585 - 0.09801 = 0.35367; for T = 90:
	// 2.66667 - 1.87603 - 0.49493 = 0.29571.
	m := plain("a", "")
	m.noise.sd = 1e-9
	m.posteriors[0].passing = 0.05
	for days, want := range map[float64]float64{90: 0.29571, 365: 0.35367} {
		got := m.parts(Span{m.origin, m.origin + days})[0].variance / (0.05 * 0.05)
		within(t, "variance of the log of a total", got, want, 0.02*want) // steps of a week, and first order in 0.05
	}
}
