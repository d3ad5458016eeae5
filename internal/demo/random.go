package demo

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"overwinter/internal/calendar"
)

// stream gives the random numbers of one purpose, so that a change in one part of the demo leaves the
// rest of a seed's scenario as it was.
func stream(seed uint64, names ...string) *rand.Rand {
	h := fnv.New64a()
	for _, name := range names {
		h.Write([]byte(name))
		h.Write([]byte{0})
	}
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

func normals(random *rand.Rand, n int) []float64 {
	z := make([]float64, n)
	for i := range z {
		z[i] = random.NormFloat64()
	}
	return z
}

// around spreads a value by a relative standard deviation.
func around(random *rand.Rand, value, share float64) float64 {
	return value * (1 + share*random.NormFloat64())
}

// wave is one harmonic of a yearly cycle, times a year, largest on a day of the year.
type wave struct {
	times, amplitude, peakDay float64
}

func (w wave) at(day calendar.Day) float64 {
	return w.amplitude * math.Cos(2*math.Pi*w.times*(float64(day.YearDay())-w.peakDay)/daysPerYear)
}

const daysPerYear = 365.25
