package forecast

import "math"

// knots places the slow level on the day line: it is piecewise linear between count knots a step
// apart, the last of which stands at the end of the origin day.
type knots struct {
	first, step float64
	count       int
	steps       []float64 // in each gap, the moment at which the level steps over instead; 0 for none
}

const (
	knotStep  = 30  // days; a random walk of 8 % a year strays 1 % from the line between
	mostKnots = 120 // a longer history gets wider steps, so that a fit stays cheap
)

// stepAt makes the level step over at a moment.
func (k *knots) stepAt(moment float64) (gap int) {
	if k.steps == nil {
		k.steps = make([]float64, k.count-1)
	}
	gap, _ = knots{k.first, k.step, k.count, nil}.weigh(moment)
	k.steps[gap] = moment
	return gap
}

// placeKnots covers the days from start to origin.
func placeKnots(start, origin float64) knots {
	span := max(origin-start, 1)
	step := max(knotStep, span/(mostKnots-1))
	gaps := int(math.Ceil(span/step - 1e-9))
	return knots{first: origin - float64(gaps)*step, step: step, count: gaps + 1}
}

// weigh gives the two knots about a moment and the weight of the second; before the first and after
// the last knot the level stays what it is there.
func (k knots) weigh(at float64) (left int, right float64) {
	position := min(max((at-k.first)/k.step, 0), float64(k.count-1))
	left = min(int(position), k.count-2)
	if k.steps == nil || k.steps[left] == 0 {
		return left, position - float64(left)
	}
	if at < k.steps[left] {
		return left, 0
	}
	return left, 1
}

func (k knots) at(level []float64, moment float64) float64 {
	left, right := k.weigh(moment)
	return level[left]*(1-right) + level[left+1]*right
}
