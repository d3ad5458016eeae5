package demo

import (
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// The law of the true burn: log rate = level + season + noise. The level is a random walk, the season
// a sum of harmonics, and the noise an autoregression of order one whose innovations are partly
// those of the weather over the whole group of plants.
const (
	driftPerYear  = 0.08 // standard deviation of the level's change over a year
	levelSpread   = 0.04 // of the level at AsOf about the plant's stated use
	seasonSpread  = 0.015
	sharedWeather = 0.5 // of the variance of an innovation
)

// law is one plant's burn.
type law struct {
	litresPerYear float64 // at 15 °C, at the level of AsOf
	season        []wave  // on the log rate
	noiseSD       float64 // of the log rate about level and season
	rho           float64 // of the noise from day to day
}

// burn draws the daily litres at 15 °C from FirstDay to LastDay.
func (l law) burn(random *rand.Rand, weather []float64) []units.LitresAt15 {
	season := make([]wave, len(l.season))
	for i, w := range l.season {
		w.amplitude += seasonSpread * random.NormFloat64()
		season[i] = w
	}
	level := l.levels(random, season, len(weather))
	common, apart := math.Sqrt(sharedWeather), math.Sqrt(1-sharedWeather)
	fresh := l.noiseSD * math.Sqrt(1-l.rho*l.rho)

	burned := make([]units.LitresAt15, len(weather))
	noise := l.noiseSD * random.NormFloat64()
	for i := range burned {
		noise = l.rho*noise + fresh*(common*weather[i]+apart*random.NormFloat64())
		burned[i] = units.LitresAt15(math.Exp(level[i] + at(season, i) + noise))
	}
	return burned
}

// levels draws the random walk of the log level. It is tied at AsOf and walks from there both ways, so
// that every seed's plants are of the stated size when the demo is looked at.
func (l law) levels(random *rand.Rand, season []wave, days int) []float64 {
	mean := 0.0
	for i := range 365 {
		mean += math.Exp(at(season, i)) / 365
	}
	level := make([]float64, days)
	tied := int(AsOf - FirstDay)
	level[tied] = math.Log(l.litresPerYear/daysPerYear/mean) - l.noiseSD*l.noiseSD/2 + levelSpread*random.NormFloat64()
	step := driftPerYear / math.Sqrt(daysPerYear)
	for i := tied + 1; i < days; i++ {
		level[i] = level[i-1] + step*random.NormFloat64()
	}
	for i := tied - 1; i >= 0; i-- {
		level[i] = level[i+1] + step*random.NormFloat64()
	}
	return level
}

// at sums waves on the day with an index from FirstDay.
func at(waves []wave, i int) (sum float64) {
	for _, w := range waves {
		sum += w.at(FirstDay + calendar.Day(i))
	}
	return sum
}
