package forecast

import (
	"math"
	"math/rand/v2"
)

// The ziggurat of 128 strips for the normal density: G. Marsaglia, W. W. Tsang, "The Ziggurat Method for Generating
// Random Variables", Journal of Statistical Software 5 (2000), whose constants these are.
const (
	strips    = 128
	tailStart = 3.442619855899 // where the lowest strip ends and the tail begins
	stripArea = 9.91256303526217e-3
	halfRange = 1 << 31 // of the 32 bits that a normal is made of
)

// strip is one strip of the ziggurat.
type strip struct {
	inside uint32  // magnitudes below it lie under the curve without a look
	width  float64 // of the strip over halfRange
	height float64 // of the density at its edge
}

var ziggurat = func() (all [strips]strip) {
	density := func(x float64) float64 { return math.Exp(-x * x / 2) }
	edge := tailStart
	below := stripArea / density(edge) // the lowest strip counts as a rectangle with its tail
	all[0] = strip{uint32(edge / below * halfRange), below / halfRange, 1}
	all[strips-1] = strip{0, edge / halfRange, density(edge)}
	for i := strips - 2; i > 0; i-- {
		next := math.Sqrt(-2 * math.Log(stripArea/edge+density(edge)))
		all[i+1].inside = uint32(next / edge * halfRange)
		all[i] = strip{0, next / halfRange, density(next)}
		edge = next
	}
	return all
}()

// fillNormal fills z with standard normal numbers. The draws are those of math/rand/v2, without its way through an
// interface for each of them.
func fillNormal(z []float64, source *rand.PCG) {
	for i := range z {
		bits := source.Uint64()
		s := &ziggurat[bits>>32%strips]
		signed := int32(bits)
		z[i] = float64(signed) * s.width
		sign := signed >> 31
		if magnitude := uint32(signed ^ sign - sign); magnitude >= s.inside {
			z[i] = outside(bits, source)
		}
	}
}

// normal gives one standard normal number.
func normal(source *rand.PCG) float64 {
	var z [1]float64
	fillNormal(z[:], source)
	return z[0]
}

// outside finishes a draw that came to lie at the edge of its strip, one of eighty.
func outside(bits uint64, source *rand.PCG) float64 {
	i, signed := bits>>32%strips, int32(bits)
	x := float64(signed) * ziggurat[i].width
	switch {
	case i == 0:
		return math.Copysign(tailStart+tail(source), x)
	case ziggurat[i].height+uniform(source)*(ziggurat[i-1].height-ziggurat[i].height) < exp(-x*x/2):
		return x
	}
	return normal(source)
}

// tail gives how far a normal number beyond tailStart lies beyond it: G. Marsaglia, "Generating a variable from the tail of the normal
// distribution", Technometrics 6 (1964).
func tail(source *rand.PCG) float64 {
	for {
		x := -math.Log(uniform(source)) / tailStart
		if y := -math.Log(uniform(source)); y+y >= x*x {
			return x
		}
	}
}

// uniform gives a number from 0 to below 1.
func uniform(source *rand.PCG) float64 { return float64(source.Uint64()<<11>>11) / (1 << 53) }
