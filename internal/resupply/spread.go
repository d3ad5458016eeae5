package resupply

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// Draws is a stream of random numbers for one thing on one path. Streams are keyed by name, so that a
// window, say, opens on the same day for every plant that it serves, whatever is drawn in between.
type Draws struct{ *rand.Rand }

// NewDraws opens the stream of a named thing on a path.
func NewDraws(seed uint64, name string, path int) Draws {
	h := fnv.New64a()
	h.Write([]byte(name))
	return Draws{rand.New(rand.NewPCG(seed^h.Sum64(), uint64(path)))}
}

// farthest is how many standard deviations a river or road date strays at most: they do not stray for
// ever. A planning convention, no source.
const farthest = 3

// Score draws from the unit normal distribution cut off at farthest standard deviations.
func (d Draws) Score() float64 {
	z := d.NormFloat64()
	for math.Abs(z) > farthest {
		z = d.NormFloat64()
	}
	return z
}

// Delay draws a whole number of days, never negative, with the given median and standard deviation:
// lognormal, since delays have a long tail; half of a normal where the median is 0.
func (d Draws) Delay(median, sd float64) int {
	z := d.NormFloat64()
	if median <= 0 {
		return int(math.Round(math.Max(0, sd*z)))
	}
	return int(math.Round(median * math.Exp(z*logSD(sd/median))))
}

// logSD gives the σ of a lognormal whose standard deviation is r times its median: with u = exp(σ²),
// variance / median² = u(u − 1) = r².
func logSD(r float64) float64 {
	u := (1 + math.Sqrt(1+4*r*r)) / 2
	return math.Sqrt(math.Log(u))
}

// Points of the standard normal distribution.
const (
	z90 = 1.2815515655446004
	z99 = 2.3263478740408408
)

// Between draws a day from the two-piece normal distribution with the given 10, 50 and 90 % points,
// on condition that it is after a day on which it has not yet happened. It reports false where so
// much of the distribution has passed that it says nothing any more.
func (d Draws) Between(early, likely, late, after int) (day int, ok bool) {
	value := func(z float64) int {
		side := float64(late - likely)
		if z < 0 {
			side = float64(likely - early)
		}
		return int(math.Round(float64(likely) + z/z90*side))
	}
	if value(z99) <= after {
		return 0, false
	}
	for {
		if day := value(d.NormFloat64()); day > after {
			return day, true
		}
	}
}
