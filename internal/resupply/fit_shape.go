package resupply

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// shape is a distribution of unit scale about the day that is foretold.
type shape interface {
	below(u float64) float64 // probability of a value up to u
	quantile(p float64) float64
	wider(sd float64) shape // the shape of a sum with an independent normal error, for scale √(1 + sd²)
}

// student is Student's distribution.
type student struct{ df float64 }

func (s student) below(u float64) float64 { return s.dist().CDF(u) }

func (s student) quantile(p float64) float64 { return s.dist().Quantile(p) }

func (s student) dist() distuv.StudentsT { return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: s.df} }

// wider reckons the degrees of freedom of a sum by Welch & Satterthwaite: Guide to the Expression of
// Uncertainty in Measurement (JCGM 100:2008), G.4.1, the added error being known.
func (s student) wider(sd float64) shape { return student{s.df * square(1+sd*sd)} }

// smoothed is the record itself: each year's residual as likely as the others, spread by a normal kernel
// and drawn together so that the variance stays. Silverman, Density Estimation for Statistics and Data
// Analysis (1986), 3.4.2 for the width, 6.4.1 for the shrinking.
type smoothed struct {
	centres []float64
	width   float64
}

// smooth makes the shape of residuals of unit variance.
func smooth(residuals []float64) smoothed {
	sorted := slices.Sorted(slices.Values(residuals))
	n := float64(len(sorted))
	quartile := func(q int) float64 { return sorted[(len(sorted)-1)*q/4] }
	spread := math.Min(1, (quartile(3)-quartile(1))/1.34)
	h := 0.9 * math.Max(spread, leastSpread) * math.Pow(n, -0.2)
	k := 1 / math.Sqrt(1+h*h)
	for i := range sorted {
		sorted[i] *= k
	}
	return smoothed{sorted, h * k}
}

// leastSpread keeps a kernel from vanishing where half of the years have the same date.
const leastSpread = 0.5

func (s smoothed) below(u float64) float64 {
	sum := 0.0
	for _, c := range s.centres {
		sum += distuv.UnitNormal.CDF((u - c) / s.width)
	}
	return sum / float64(len(s.centres))
}

// quantile halves the range in which it must lie.
func (s smoothed) quantile(p float64) float64 {
	reach := 9 * s.width // no probability lies farther out that a float64 could tell from 1
	low, high := s.centres[0]-reach, s.centres[len(s.centres)-1]+reach
	for high-low > 1e-4 { // a thousandth of a day
		if mid := (low + high) / 2; s.below(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

func (s smoothed) wider(sd float64) shape {
	scale := math.Sqrt(1 + sd*sd)
	w := smoothed{slices.Clone(s.centres), math.Sqrt(s.width*s.width+sd*sd) / scale}
	for i := range w.centres {
		w.centres[i] /= scale
	}
	return w
}

// scores are the values of a shape at evenly spaced normal scores from −farthest to farthest: drawing is
// looking up, whatever the shape. Straight lines between them err by less than a hundredth of a scale.
type scores [2*farthest*scoresPerUnit + 1]float64

const scoresPerUnit = 20

func scoresOf(s shape) *scores {
	var table scores
	for i := range table {
		table[i] = s.quantile(distuv.UnitNormal.CDF(score(i)))
	}
	return &table
}

func score(i int) float64 { return float64(i)/scoresPerUnit - farthest }

// at is the value with as much probability below it as z has in the unit normal distribution.
func (t *scores) at(z float64) float64 {
	x := (math.Max(-farthest, math.Min(farthest, z)) + farthest) * scoresPerUnit
	i := min(int(x), len(t)-2)
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}

// score is the inverse of at: −∞ or ∞ beyond the table.
func (t *scores) score(u float64) float64 {
	i, exact := slices.BinarySearch(t[:], u)
	switch {
	case exact:
		return score(i)
	case i == 0:
		return math.Inf(-1)
	case i == len(t):
		return math.Inf(1)
	}
	return score(i-1) + (u-t[i-1])/(t[i]-t[i-1])/scoresPerUnit
}
