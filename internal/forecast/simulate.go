package forecast

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
)

// sharedWeather is the part of the variance of the daily innovation that the plants of a climate group
// have in common. An assumption, no source.
const sharedWeather = 0.5

// levelStep is the number of days in whose middle the level moves at once: finer steps cost time and
// change no sum that matters.
const levelStep = 7

// Simulate draws paths of cumulative consumption. A path starts at the end of day from; day index 1 is
// from+1. Each path draws a speed of drift, a level and a season from their joint posterior, then a
// random walk of the level and autoregressive noise for each day. A from before the origin starts from
// the level of the origin.
//
// Path number i means the same weather for all plants of a climate group that start on the same day. The result depends on the
// arguments, the fit and the names of plant and group alone: not on the order of calls or on cores.
// It is empty if the model is not usable or a count is not positive.
func (m Model) Simulate(from calendar.Day, days, paths int, seed uint64) Paths {
	if m.err != nil || len(m.drifts) == 0 || days <= 0 || paths <= 0 {
		return Paths{}
	}
	rows := make([]season, days)
	for i := range rows {
		rows[i] = harmonicRow(int(from) + 1 + i)
	}
	result := Paths{days: days, count: paths, cumulative: make([]float64, days*paths)}
	gap := max(float64(from)+1-m.origin, 0)
	for path := range paths {
		own := stream(seed, "plant", m.plant, path)
		weather := stream(seed, "group", m.group, path)
		m.simulate(result.cumulative[path*days:][:days], rows, gap, own, weather)
	}
	return result
}

// simulate fills one path with cumulative litres; gap is the days from the origin to its start.
func (m Model) simulate(cumulative []float64, rows []season, gap float64, own, weather *rand.Rand) {
	d := pickDrift(m.drifts, own.Float64())
	level, coefficients := d.draw(own)
	level += math.Sqrt(d.perDay*gap) * own.NormFloat64()

	common, apart := math.Sqrt(sharedWeather), math.Sqrt(1-sharedWeather)
	fresh := m.noise.sd * math.Sqrt(1-m.noise.rho*m.noise.rho)
	week := math.Sqrt(d.perDay * levelStep)
	e := m.noise.sd * (common*weather.NormFloat64() + apart*own.NormFloat64())
	for i := range cumulative { // log rates first: random numbers and exponentials in loops of their own run faster
		if i%levelStep == levelStep/2 {
			level += week * own.NormFloat64()
		}
		e = m.noise.rho*e + fresh*(common*weather.NormFloat64()+apart*own.NormFloat64())
		cumulative[i] = level + e
	}
	total := 0.0
	for i, logRate := range cumulative {
		total += exp(logRate + coefficients.dot(&rows[i]))
		cumulative[i] = total
	}
}

// pickDrift gives the speed of drift that holds the given share of the posterior.
func pickDrift(drifts []drift, share float64) *drift {
	for i := range drifts {
		if share -= drifts[i].weight; share < 0 {
			return &drifts[i]
		}
	}
	return &drifts[len(drifts)-1]
}

// draw gives a log level at the origin and seasonal coefficients from their joint posterior.
func (d *drift) draw(random *rand.Rand) (level float64, coefficients season) {
	var z, x [1 + nSeason]float64
	for i := range z {
		z[i] = random.NormFloat64()
	}
	for i := range x {
		x[i] = d.mean[i]
		for j := range z {
			x[i] += d.spread[i][j] * z[j]
		}
	}
	return x[0], season(x[1:])
}

// stream gives the random numbers of one path of one name.
func stream(seed uint64, kind, name string, path int) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(kind))
	h.Write([]byte{0})
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(mix(seed^mix(h.Sum64())), mix(uint64(path)+h.Sum64())))
}

// mix scatters the bits of x, so that neighbouring keys give unlike streams: the finaliser of
// SplitMix64, G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators",
// OOPSLA 2014.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
