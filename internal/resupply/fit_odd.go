package resupply

import (
	"math"
	"slices"
)

// OddYear is a past date that lies far from where the law expects it. It counts all the same: it may be a slip of
// the pen, or a year like no other.
type OddYear struct {
	Year int `json:"year"`
	Off  int `json:"days_off"` // below 0: before
}

// Limits of a modified z-score: Iglewicz & Hoaglin, How to Detect and Handle Outliers (1993), chapter 3. The
// median of the deviations is a day at least.
const (
	oddScore = 3.5
	madScale = 0.6745
)

// oddYears finds dates that lie far from a line, by the median of all deviations from it.
func oddYears(p points, l line) []OddYear {
	off, size := make([]float64, len(p.days)), make([]float64, len(p.days))
	for i := range p.days {
		off[i] = p.days[i] - l.at(p.years[i])
		size[i] = math.Abs(off[i])
	}
	slices.Sort(size)
	median := math.Max(1, size[len(size)/2])
	var odd []OddYear
	for i, days := range off {
		if madScale*math.Abs(days) > oddScore*median {
			odd = append(odd, OddYear{int(p.years[i]), int(math.Round(days))})
		}
	}
	return odd
}
