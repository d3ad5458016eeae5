package forecast

import (
	"math"
	"slices"
)

// Paths holds simulated futures of one plant.
type Paths struct {
	days, count int
	cumulative  []float64 // litres at 15 °C; path-major, days values a path
}

// Days gives the horizon in days.
func (p Paths) Days() int { return p.days }

// Count gives the number of paths.
func (p Paths) Count() int { return p.count }

// Cumulative gives the litres at 15 °C burned on a path (0 to Count-1) by the end of day index day
// (0 to Days); day 0 is the start and gives 0.
func (p Paths) Cumulative(path, day int) float64 {
	if day == 0 {
		return 0
	}
	return p.cumulative[path*p.days+day-1]
}

// Path gives the litres at 15 °C burned on a path by the end of day 1 and of each day after it. They must not be changed.
func (p Paths) Path(path int) []float64 { return p.cumulative[path*p.days : (path+1)*p.days] }

// Quantile gives the p-quantile of values, which need not be sorted and are left as they are. Between
// order statistics it interpolates at h = (n-1)p + 1: definition 7 of Hyndman & Fan, "Sample
// quantiles in statistical packages", The American Statistician 50 (1996), the default of R. It gives
// 0 for no values, and takes p outside 0 to 1 as the nearer end.
func Quantile(values []float64, p float64) float64 { return Quantiles(values, p)[0] }

// Quantiles gives several quantiles of the same values, each as Quantile does, for one sorting.
func Quantiles(values []float64, ps ...float64) []float64 {
	found := make([]float64, len(ps))
	if len(values) == 0 {
		return found
	}
	sorted := slices.Sorted(slices.Values(values))
	for i, p := range ps {
		found[i] = quantileSorted(sorted, p)
	}
	return found
}

func quantileSorted(sorted []float64, p float64) float64 {
	h := float64(len(sorted)-1) * min(max(p, 0), 1)
	below := math.Floor(h)
	low := sorted[int(below)]
	high := sorted[min(int(below)+1, len(sorted)-1)]
	return low + (h-below)*(high-low)
}

func median(values []float64) float64 { return Quantile(values, 0.5) }
