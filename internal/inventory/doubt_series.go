package inventory

import (
	"math"
	"slices"

	"overwinter/internal/calendar"
)

// seasonFewest is how many values of one season make a season's middle, and sideReach how many neighbours on
// either side a value is held against. Common practice, no source.
const (
	seasonFewest = 4
	sideReach    = 3
)

// series is a figure of a plant by periods, per day, in order of time; 0 or less is no figure.
type series struct {
	middle []calendar.Day // of each period
	perDay []float64
}

// ratios tells how many times each figure is what the figures before it, and those after it, make likely, once
// the season is taken off; 0 is not known.
func (s *series) ratios() (before, after []float64) {
	var bySeason [12][]float64
	var all []float64
	for i, v := range s.perDay {
		if v > 0 {
			m := month(s.middle[i])
			bySeason[m], all = append(bySeason[m], v), append(all, v)
		}
	}
	var season [12]float64
	for m := range season {
		near := slices.Concat(bySeason[(m+11)%12], bySeason[m], bySeason[(m+1)%12])
		if len(near) < seasonFewest {
			near = all
		}
		season[m] = median(near)
	}
	q := make([]float64, len(s.perDay))
	for i, v := range s.perDay {
		if v > 0 && season[month(s.middle[i])] > 0 {
			q[i] = v / season[month(s.middle[i])]
		}
	}
	before, after = make([]float64, len(q)), make([]float64, len(q))
	for i, v := range q {
		before[i] = ratioTo(v, known(q[max(0, i-sideReach):i]))
		after[i] = ratioTo(v, known(q[i+1:min(len(q), i+1+sideReach)]))
	}
	return before, after
}

// ratioTo gives the ratio of a value to the middle of others, 0 where there is no other. Of two middle ones it is the
// one that speaks for the value: one of the two may be the odd one.
func ratioTo(v float64, others []float64) float64 {
	if len(others) == 0 || v <= 0 {
		return 0
	}
	slices.Sort(others)
	low, high := others[(len(others)-1)/2], others[len(others)/2]
	if math.Abs(math.Log(v/low)) <= math.Abs(math.Log(v/high)) {
		return v / low
	}
	return v / high
}

func month(d calendar.Day) int {
	_, m, _ := d.Civil()
	return int(m) - 1
}

func known(values []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(values), func(v float64) bool { return v <= 0 })
}

// median gives the lower middle value, 0 of none.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	return sorted[(len(sorted)-1)/2]
}

// odd gives the ratio by which both sides say that a figure is off: the nearer to 1 of the two, 1 where they
// disagree or nothing is known. Of the newest figure and of the oldest one side alone speaks.
func odd(before, after float64) float64 {
	switch {
	case before == 0 && after == 0:
		return 1
	case before == 0:
		return after
	case after == 0:
		return before
	case before > 1 && after > 1:
		return min(before, after)
	case before < 1 && after < 1:
		return max(before, after)
	}
	return 1
}
