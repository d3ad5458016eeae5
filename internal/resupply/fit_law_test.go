package resupply

import (
	"math"
	"math/rand/v2"
	"testing"
)

// truth is a made-up river: a day about a line through the years, rounded to whole days.
type truth struct {
	trend float64 // days a year
	noise func(*rand.Rand) float64
}

func normalNoise(r *rand.Rand) float64 { return 6 * r.NormFloat64() }

// laplaceNoise has longer tails than the normal distribution, at a deviation of six days.
func laplaceNoise(r *rand.Rand) float64 {
	return 6 / math.Sqrt2 * r.ExpFloat64() * float64(2*r.IntN(2)-1)
}

// twoSidedNoise is early or late, seldom in between.
func twoSidedNoise(r *rand.Rand) float64 { return 10*float64(2*r.IntN(2)-1) + 2*r.NormFloat64() }

func (w truth) record(r *rand.Rand, years int) points {
	var p points
	for i := range years {
		p.years = append(p.years, float64(i))
		p.days = append(p.days, math.Round(w.trend*float64(i)+w.noise(r)))
	}
	return p
}

// covered foretells the year after each of many records and counts how often it lies inside the 10 and 90 % points, and which
// law was chosen.
func (w truth) covered(years, records int) (share float64, laws map[Law]int) {
	r := rand.New(rand.NewPCG(uint64(years), 7))
	laws = map[Law]int{}
	inside := 0
	for range records {
		all := w.record(r, years+1)
		f := &DateFit{}
		f.settle(points{all.years[:years], all.days[:years]})
		u := uncertain{mid: f.line.at(float64(years)), scale: f.line.predictionSD(float64(years)), unit: f.unit}
		if next := all.days[years]; next >= u.at(-z90) && next <= u.at(z90) {
			inside++
		}
		laws[f.Law]++
	}
	return float64(inside) / float64(records), laws
}

// The share of 400 records that lies inside is binomial about 80 %, ± 0.06 at three deviations. Where the law has to
// be found, or is none of ours, it may fall short or go beyond that by what is stated: long tails widen the normal law, and
// the smoothing fills the gap between early and late years and widens their edges.
func TestEightInTenOfTheComingYearsLieInside(t *testing.T) {
	const records, three = 400, 0.06
	for _, c := range []struct {
		name  string
		truth truth
		years int
		short float64
		long  float64
	}{
		{"six years", truth{0, normalNoise}, 6, 0, 0.01},
		{"twelve years", truth{0, normalNoise}, 12, 0, 0.01},
		{"thirty years", truth{0, normalNoise}, 30, 0.01, 0.01},
		{"sixty years", truth{0, normalNoise}, 60, 0.01, 0.01},
		{"long tails", truth{0, laplaceNoise}, 30, 0.01, 0.02},
		{"early or late", truth{0, twoSidedNoise}, 60, 0.02, 0.09},
		{"a day earlier a decade", truth{-0.1, normalNoise}, 60, 0.02, 0.01},
		{"four days earlier a decade", truth{-0.4, normalNoise}, 60, 0.02, 0.01},
		{"eight days earlier a decade", truth{-0.8, normalNoise}, 30, 0.02, 0.01},
	} {
		share, laws := c.truth.covered(c.years, records)
		t.Logf("%s: %.1f %% inside, laws %v", c.name, 100*share, laws)
		if share < 0.8-three-c.short || share > 0.8+three+c.long {
			t.Errorf("%s: %.1f %% of the coming years lie inside, want 80 ± %.1f", c.name, 100*share, 100*three)
		}
	}
}

func TestTheLawFollowsTheEvidence(t *testing.T) {
	for _, c := range []struct {
		name  string
		truth truth
		want  Law
		least int // of 100 records
	}{
		{"no trend", truth{0, normalNoise}, LawMean, 80},
		{"a strong trend", truth{-0.8, normalNoise}, LawTrend, 95},
		{"early or late", truth{0, twoSidedNoise}, LawEmpirical, 90},
	} {
		if _, laws := c.truth.covered(60, 100); laws[c.want] < c.least {
			t.Errorf("%s: %v, want %s at least %d times", c.name, laws, c.want, c.least)
		}
	}
}
