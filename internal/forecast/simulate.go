package forecast

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"

	"overwinter/internal/calendar"
)

// sharedWeather is the part of the variance of what passes that the plants of a climate group have in
// common. An assumption, no source.
const sharedWeather = 0.5

// future is what all paths of one simulation share.
type future struct {
	base    []float64   // exp of the mean season, by day
	seasons []season    // seasonal row of each block
	gap     float64     // days from the origin to the start
	circle  [][]float64 // noise of a day on the rate, by scale of the calibration: see newCircle

	colder [][]float64 // how much colder each block is, by weather year: see weather.ahead; nil where that is not known
	years  []int       // after the origin, of each block
	doubts []doubt     // of the days to come, counted from the first

	draws   []float64 // room for a path's own normal numbers, blockDraws a step from block to block,
	weather []float64 // for one of the weather a step,
	rates   []float64 // and for the rate of each block
}

// blockDraws are the numbers for the walk and for what passes.
const blockDraws = 2

// Simulate draws paths of cumulative consumption. A path starts at the end of day from; day index 1 is
// from+1. Each path draws a law, a scale of the calibration, and level, passing deviation and season from their joint posterior, then a
// random walk of the level and what passes anew. Its autoregressive noise is a stretch, from a random day on, of a circle of
// days that the paths have in common. A from before the origin starts from the state of the origin.
//
// Path number i means the same weather for all plants of a climate group that start on the same day. The result depends on the
// arguments, the fit and the names of plant and group alone: not on the order of calls or on cores.
// It is empty if the model is not usable or a count is not positive.
func (m Model) Simulate(from calendar.Day, days, paths int, seed uint64) Paths {
	if m.err != nil || len(m.posteriors) == 0 || days <= 0 || paths <= 0 {
		return Paths{}
	}
	result := Paths{days: days, count: paths, cumulative: make([]float64, days*paths)}
	f := m.future(from, days, seed)
	ownStream, weatherStream, yearStream := newStream(seed, "plant", m.plant), newStream(seed, "group", m.group), newStream(seed, "weather years", m.group)
	var own, weather, years rand.PCG
	for path := range paths {
		ownStream.start(&own, path)
		weatherStream.start(&weather, path)
		yearStream.start(&years, path)
		m.simulate(result.cumulative[path*days:][:days], &f, &own, &weather, &years)
	}
	return result
}

func (m Model) future(from calendar.Day, days int, seed uint64) future {
	var source rand.PCG
	newStream(seed, "noise", m.plant).start(&source, 0)
	f := future{circle: newCircle(m.noise, m.calibration.Scales, &source), base: make([]float64, days), gap: max(float64(from)+1-m.origin, 0)}
	for i := range f.base {
		row := m.events.ofDay(int(from) + 1 + i)
		f.base[i] = m.known.times(int(from)+1+i) * math.Exp(m.season.dot(&row))
	}
	for i := 0; i < days; i += blockDays {
		start := float64(from) + 1 + float64(i)
		f.seasons = append(f.seasons, m.events.row(start, start+blockDays))
	}
	m.futureWeather(&f, from)
	for _, d := range m.known.doubts(int(m.origin)) {
		d.from, d.until = d.from-int(from)-1, d.until-int(from)-1
		f.doubts = append(f.doubts, d)
	}
	steps := (days - 1) / blockDays
	f.draws, f.weather, f.rates = make([]float64, blockDraws*steps), make([]float64, steps), make([]float64, steps+1)
	return f
}

// futureWeather works out how much colder each block is in each of the weather years, or in the winter that is supposed.
func (m *Model) futureWeather(f *future, from calendar.Day) {
	for i := range (len(f.base) + blockDays - 1) / blockDays {
		start := float64(from) + 1 + float64(blockDays*i)
		colder := m.known.weather.ahead(start, start+blockDays, m.origin)
		if colder == nil {
			return
		}
		year := int(yearAhead(start, m.origin))
		if year == 0 && m.known.winter != nil {
			times := math.Exp(m.season[coldAt] * dot(m.known.winter, colder))
			floats.Scale(times, f.base[blockDays*i:min(blockDays*(i+1), len(f.base))])
			clear(colder)
		}
		f.colder, f.years = append(f.colder, colder), append(f.years, year)
	}
}

// simulate fills one path with cumulative litres.
func (m *Model) simulate(cumulative []float64, f *future, own, weather, years *rand.PCG) {
	p := pickLaw(m.posteriors, uniform(own))
	pick := rand.New(own)
	which, place := pick.IntN(len(m.calibration.Scales)), pick.IntN(circleDays)
	scale, factors := m.calibration.Scales[which], f.circle[which]
	state := p.draw(own, scale)
	level := state[0] + scale*math.Sqrt(driftPerDay(p.drift)*f.gap)*normal(own)
	stay := fade(f.gap)
	passing := state[1]*stay + scale*p.passing*math.Sqrt(1-stay*stay)*normal(own)
	level += m.noise.mean() - scale*scale*m.noise.sd*m.noise.sd/2 // a larger noise would raise the mean

	walk := scale * math.Sqrt(driftPerDay(p.drift)*blockDays)
	stay = fade(blockDays)
	fresh := scale * p.passing * math.Sqrt(1-stay*stay)
	shared, apart := fresh*math.Sqrt(sharedWeather), fresh*math.Sqrt(1-sharedWeather)
	fillNormal(f.draws, own)
	fillNormal(f.weather, weather)
	f.rates[0] = level + passing
	for i, common := range f.weather {
		z := f.draws[i*blockDraws:][:blockDraws]
		level += walk * z[0]
		passing = stay*passing + shared*common + apart*z[1]
		f.rates[i+1] = level + passing
	}
	var change season // the mean season is in the days
	for j, x := range m.season {
		change[j] = state[2+j] - x
	}
	used := m.events.coefficients()
	for i := range f.rates {
		f.rates[i] += change.along(&f.seasons[i], used)
	}
	if f.colder != nil {
		f.addWeather(scale*m.season[coldAt], rand.New(years))
	}
	expAll(f.rates)
	f.accumulate(cumulative, factors, place)
	for _, d := range f.doubts {
		d.apply(cumulative, math.Exp(scale*d.sd*normal(own)))
	}
}

// addWeather adds the effect of cold to the log rates: each year ahead has the weather of one of those observed.
func (f *future) addWeather(effect float64, pick *rand.Rand) {
	drawn, year := 0, -1
	for i, colder := range f.colder {
		for ; year < f.years[i]; year++ {
			drawn = pick.IntN(len(colder))
		}
		f.rates[i] += effect * colder[drawn]
	}
}

// apply multiplies the use of the days in doubt.
func (d doubt) apply(cumulative []float64, times float64) {
	before, added := 0.0, 0.0
	for day, total := range cumulative {
		if day >= d.from && day < d.until {
			added += (times - 1) * (total - before)
		}
		before = total
		cumulative[day] = total + added
	}
}

// accumulate adds up the days of a path: season and noise of each, times the rate of its block.
func (f *future) accumulate(cumulative, noise []float64, place int) {
	total := 0.0
	for i, rate := range f.rates {
		days, base := cumulative[i*blockDays:], f.base[i*blockDays:]
		if len(days) >= blockDays { // in arrays no day's bounds are looked at
			days, base, noise := (*[blockDays]float64)(days), (*[blockDays]float64)(base), (*[blockDays]float64)(noise[place:])
			for day := range days {
				total += rate * (base[day] * noise[day])
				days[day] = total
			}
		} else {
			for day, x := range base {
				total += rate * (x * noise[place+day])
				days[day] = total
			}
		}
		place = (place + blockDays) % circleDays
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
