package forecast

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
)

// sharedWeather is the part of the variance of what passes that the plants of a climate group have in
// common. An assumption, no source.
const sharedWeather = 0.5

// future is what all paths of one simulation share.
type future struct {
	base []float64 // exp of the mean season, by day
	rows []season  // of the middle of each block
	gap  float64   // days from the origin to the start

	draws   []float64 // room for a path's own normal numbers, blockDraws a block,
	weather []float64 // and for one of the weather a block
}

// blockDraws are the numbers for the walk and for what passes, then for each day of a block. The first block leaves the first two alone.
const blockDraws = 2 + blockDays

// Simulate draws paths of cumulative consumption. A path starts at the end of day from; day index 1 is
// from+1. Each path draws a law, a scale of the calibration, and level, passing deviation and season from their joint posterior, then a
// random walk of the level, what passes anew, and autoregressive noise for each day. A from before the
// origin starts from the state of the origin.
//
// Path number i means the same weather for all plants of a climate group that start on the same day. The result depends on the
// arguments, the fit and the names of plant and group alone: not on the order of calls or on cores.
// It is empty if the model is not usable or a count is not positive.
func (m Model) Simulate(from calendar.Day, days, paths int, seed uint64) Paths {
	if m.err != nil || len(m.posteriors) == 0 || days <= 0 || paths <= 0 {
		return Paths{}
	}
	result := Paths{days: days, count: paths, cumulative: make([]float64, days*paths)}
	f := m.future(from, days)
	ownStream, weatherStream := newStream(seed, "plant", m.plant), newStream(seed, "group", m.group)
	var own, weather rand.PCG
	for path := range paths {
		ownStream.start(&own, path)
		weatherStream.start(&weather, path)
		m.simulate(result.cumulative[path*days:][:days], &f, &own, &weather)
	}
	return result
}

func (m Model) future(from calendar.Day, days int) future {
	f := future{base: make([]float64, days), gap: max(float64(from)+1-m.origin, 0)}
	for i := range f.base {
		row := m.events.ofDay(int(from) + 1 + i)
		f.base[i] = math.Exp(m.season.dot(&row))
	}
	for i := 0; i < days; i += blockDays {
		start := float64(from) + 1 + float64(i)
		f.rows = append(f.rows, m.events.row(start, start+blockDays))
	}
	f.draws, f.weather = make([]float64, blockDraws*len(f.rows)), make([]float64, len(f.rows))
	return f
}

// simulate fills one path with cumulative litres.
func (m *Model) simulate(cumulative []float64, f *future, own, weather *rand.PCG) {
	p := pickLaw(m.posteriors, uniform(own))
	scale := m.calibration.Scales[rand.New(own).IntN(len(m.calibration.Scales))]
	state := p.draw(own, scale)
	for i := range nSeason { // from the mean season on
		state[2+i] -= m.season[i]
	}
	level := state[0] + scale*math.Sqrt(driftPerDay(p.drift)*f.gap)*normal(own)
	stay := fade(f.gap)
	passing := state[1]*stay + scale*p.passing*math.Sqrt(1-stay*stay)*normal(own)
	level -= (scale*scale - 1) * m.noise.sd * m.noise.sd / 2 // a larger noise would raise the mean

	walk := scale * math.Sqrt(driftPerDay(p.drift)*blockDays)
	stay = fade(blockDays)
	fresh := scale * p.passing * math.Sqrt(1-stay*stay)
	common, apart := fresh*math.Sqrt(sharedWeather), fresh*math.Sqrt(1-sharedWeather)
	noise := scale * m.noise.sd
	daily := noise * math.Sqrt(1-m.noise.rho*m.noise.rho)
	rho := m.noise.rho
	e := noise * normal(own)
	fillNormal(f.draws[blockDraws-blockDays:], own)
	fillNormal(f.weather[1:], weather)
	for i := range f.rows {
		z := f.draws[i*blockDraws:][:blockDraws]
		if i > 0 {
			level += walk * z[0]
			passing = stay*passing + common*f.weather[i] + apart*z[1]
		}
		logRate := level + passing + dot(state[2:], f.rows[i][:])
		days := cumulative[i*blockDays : min((i+1)*blockDays, len(cumulative))]
		for day := range days {
			days[day] = logRate + e
			e = rho*e + daily*z[2+day]
		}
	}
	expAll(cumulative)
	total := 0.0
	for day, rate := range cumulative {
		total += f.base[day] * rate
		cumulative[day] = total
	}
}

// pickLaw gives the law that holds the given share of the posterior.
func pickLaw(posteriors []posterior, share float64) *posterior {
	for i := range posteriors {
		if share -= posteriors[i].weight; share < 0 {
			return &posteriors[i]
		}
	}
	return &posteriors[len(posteriors)-1]
}

// draw gives a state at the origin from its posterior, scale times as far from its mean.
func (p *posterior) draw(source *rand.PCG, scale float64) (state [nState]float64) {
	var z [nState]float64
	fillNormal(z[:], source)
	state = p.mean
	for j, x := range z {
		addTimes(state[:], p.spread.column(j), scale*x)
	}
	return state
}

// stream gives the random numbers of the paths of one name.
type stream struct{ seed, name uint64 }

func newStream(seed uint64, kind, name string) stream {
	h := fnv.New64a()
	h.Write([]byte(kind))
	h.Write([]byte{0})
	h.Write([]byte(name))
	return stream{mix(seed ^ mix(h.Sum64())), h.Sum64()}
}

// start sets a source to the beginning of a path.
func (s stream) start(source *rand.PCG, path int) { source.Seed(s.seed, mix(uint64(path)+s.name)) }

// mix scatters the bits of x, so that neighbouring keys give unlike streams: the finaliser of
// SplitMix64, G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators",
// OOPSLA 2014.
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
