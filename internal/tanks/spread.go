package tanks

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"overwinter/internal/units"
)

// noisy is one reading of a level with its error: the true depth, or the true volume where a volume was read, is
// normally distributed about the reading and cut off at an empty and a full tank. The zero noisy is a level of
// nothing, known for certain.
type noisy struct {
	shape Shape   // nil where a volume was read
	at    float64 // mm, or L where a volume was read
	sigma float64 // one standard deviation, in the same unit
	high  float64 // the full depth or the capacity
}

// volume is the volume in litres when the reading is off by z standard deviations.
func (n *noisy) volume(z float64) float64 {
	x := min(max(n.at+z*n.sigma, 0), n.high)
	if n.shape == nil {
		return x
	}
	return float64(n.shape.Volume(units.Millimetres(x)))
}

// unit is the unit of the reading.
func (n *noisy) unit() string {
	if n.shape == nil {
		return "L"
	}
	return "mm"
}

const (
	fewPoints  = 5  // exact for a volume that is a polynomial of degree 4 in the depth
	manyPoints = 37 // a quarter of a standard deviation apart out to 4.5 of them
)

// Two rules for the mean over a normal deviate: that of Gauss and Hermite for a curve that is smooth over the reach of the
// error, and a plain sum of equal steps for one that bends sharply there: at the bottom or the top of the tank, at a
// row of a table, where the water or the suction is reached. One such bend within two standard deviations puts the spread
// wrong by 0.25 % at most (computed).
var (
	few  = hermite()
	many = equalSteps()
)

func hermite() (nodes [fewPoints]node) {
	var x, w [fewPoints]float64
	quad.Hermite{}.FixedLocations(x[:], w[:], math.Inf(-1), math.Inf(1))
	for i := range nodes {
		nodes[i] = node{math.Sqrt2 * x[i], w[i] / math.Sqrt(math.Pi)}
	}
	return nodes
}

func equalSteps() (nodes [manyPoints]node) {
	sum := 0.0
	for i := range nodes {
		z := 0.25 * float64(i-manyPoints/2)
		nodes[i] = node{z, math.Exp(-z * z / 2)}
		sum += nodes[i].weight
	}
	for i := range nodes {
		nodes[i].weight /= sum
	}
	return nodes
}

// sample is a level at the nodes of a rule, in litres.
type sample struct {
	litres [manyPoints]float64
	nodes  []node
}

// certain is the rule for a level without an error.
var certain = []node{{0, 1}}

// take fills the sample by a rule.
func (s *sample) take(n *noisy, nodes []node) {
	s.nodes = nodes
	for i := range nodes {
		s.litres[i] = n.volume(nodes[i].at)
	}
}

// sampled takes a level by the rule that suits the curve.
func (n *noisy) sampled() (s sample) {
	if !(n.sigma > 0) {
		s.take(n, certain)
		return s
	}
	if s.take(n, few[:]); !s.smooth() {
		s.take(n, many[:])
	}
	return s
}

// resample goes over to the finer rule.
func (s *sample) resample(n *noisy) {
	if len(s.nodes) == fewPoints {
		s.take(n, many[:])
	}
}

// smooth tells whether a sample of few lies on a curve without sharp bends: whether its outer points stand where the
// inner ones and a parabola, with its axis anywhere, would have them, to a tenth of the rise.
func (s *sample) smooth() bool {
	v := &s.litres
	ratio := few[4].at / few[3].at
	slope := (v[4] - v[0]) - ratio*(v[3]-v[1])
	bend := (v[4] + v[0] - 2*v[2]) - ratio*ratio*(v[3]+v[1]-2*v[2])
	return max(math.Abs(slope), math.Abs(bend)) <= 0.1*(v[4]-v[0])
}

// lowest and highest are the ends of the sample: the levels rise with the deviate.
func (s *sample) lowest() float64  { return s.litres[0] }
func (s *sample) highest() float64 { return s.litres[len(s.nodes)-1] }

// variance is the variance over the rule, in L².
func (s *sample) variance() float64 {
	mean, variance := 0.0, 0.0
	for i := range s.nodes {
		mean += s.nodes[i].weight * (s.litres[i] - s.litres[0])
	}
	for i := range s.nodes {
		off := s.litres[i] - s.litres[0] - mean
		variance += s.nodes[i].weight * off * off
	}
	return variance
}

// raise lifts what lies below a floor to it.
func (s *sample) raise(n *noisy, floor float64) {
	switch {
	case s.highest() <= floor:
		s.litres[0], s.nodes = floor, certain
	case s.lowest() < floor:
		s.resample(n)
		for i := range s.nodes {
			s.litres[i] = max(floor, s.litres[i])
		}
	}
}

// spread is the standard deviation of the volume of liquid above the higher of the water and a floor, never below
// 0, split by the reading it comes from: the root of the sum of the squares of both is the whole. Where the liquid may have
// sunk to the water the two act on each other; then the part of the liquid is that of the mean over the water,
// and the water's what is left (the law of total variance).
func (l *levels) spread(above, below sample, floor units.Litres) (byLiquid, byWater float64) {
	below.raise(&l.waterRead, float64(floor))
	if above.lowest() >= below.highest() {
		return math.Sqrt(above.variance()), math.Sqrt(below.variance())
	}
	above.resample(&l.liquidRead)
	if len(below.nodes) == fewPoints { // the floor lies below all of it
		below.resample(&l.waterRead)
		below.raise(&l.waterRead, float64(floor))
	}
	return jointly(&above, &below)
}

// jointly is spread where the levels overlap: above becomes the mean over the water, point by point.
func jointly(above, below *sample) (byAbove, byBelow float64) {
	within := 0.0
	for i := range above.nodes {
		mean, square := 0.0, 0.0
		for j := range below.nodes {
			left := max(0, above.litres[i]-below.litres[j])
			mean += below.nodes[j].weight * left
			square += below.nodes[j].weight * left * left
		}
		above.litres[i] = mean
		within += above.nodes[i].weight * max(0, square-mean*mean)
	}
	return math.Sqrt(above.variance()), math.Sqrt(within)
}
