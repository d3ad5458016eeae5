package score

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// drawn is some years of usage and forecasts of it, from the ends of months.
func drawn(t *rapid.T) (forecasts []Forecast, usages []forecast.Interval, asOf calendar.Day) {
	months := rapid.IntRange(1, 30).Draw(t, "months")
	first := calendar.Month{Year: 2025, Month: time.April}
	for i := range months {
		m := rapid.Int64Range(10, 500).Draw(t, "median")
		s := rapid.Int64Range(0, m/10).Draw(t, "spread")
		forecasts = append(forecasts, straight(first.Plus(i).First()-1, m-3*s, m-2*s, m-s, m, m+s, m+2*s, m+4*s))
	}
	asOf = first.Plus(months).First() + calendar.Day(rapid.IntRange(0, 20).Draw(t, "days"))
	for at := float64(first.First() - 400); at < float64(asOf); {
		days := rapid.Float64Range(0.5, 9).Draw(t, "length")
		if rapid.IntRange(0, 60).Draw(t, "believed") > 0 {
			usages = append(usages, interval(at, at+days, days*rapid.Float64Range(50, 200).Draw(t, "rate")))
		}
		at += days
	}
	return forecasts, usages, asOf
}

func TestTheOrderOfForecastsAndUsagesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		forecasts, usages, asOf := drawn(t)
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		mixed, shuffled := slices.Clone(forecasts), slices.Clone(usages)
		random.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		random.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		if diff := cmp.Diff(Score(forecasts, usages, asOf), Score(mixed, shuffled, asOf), cmp.AllowUnexported(Outcome{})); diff != "" {
			t.Fatal(diff)
		}
	})
}

func TestAPerfectForecastLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		perDay := rapid.Int64Range(1, 5000).Draw(t, "per day")
		var all []Forecast
		for i := range rapid.IntRange(1, 20).Draw(t, "months") {
			all = append(all, straight(calendar.Month{Year: 2025, Month: time.April}.Plus(i).First()-1, perDay, perDay, perDay, perDay, perDay, perDay, perDay))
		}
		asOf := all[len(all)-1].Origin + 40
		usages := steadily(origin-20, asOf, rapid.IntRange(1, 3).Draw(t, "step"), float64(perDay))
		for _, l := range Score(all, usages, asOf).Lengths {
			if l.Scored != l.Due || l.Summary.Pinball > 1e-9 || l.Summary.MedianMiss > 1e-9 {
				t.Fatalf("%+v with %+v", l, l.Summary)
			}
		}
	})
}

func TestCountsAddUpAndSharesLieInTheirRanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		forecasts, usages, asOf := drawn(t)
		for _, l := range Score(forecasts, usages, asOf).Lengths {
			left := l.Due - l.Scored
			for _, u := range l.Unscored {
				left -= u.Count
			}
			if left != 0 || (l.Scored > 0) != (l.Summary != nil) || len(l.Newest) != min(l.Scored, shown) {
				t.Fatalf("%+v", l)
			}
			if s := l.Summary; s != nil {
				for _, c := range []Coverage{s.Inside80, s.Inside95} {
					if c.Low > c.Percent+1e-9 || c.High < c.Percent-1e-9 || c.Low < 0 || c.High > 100 {
						t.Fatalf("%+v", c)
					}
				}
				if s.Apart < 1 || s.Apart > l.Scored || s.Inside80.Inside > s.Inside95.Inside || s.Pinball < 0 {
					t.Fatalf("%+v", s)
				}
			}
		}
	})
}

// The litres of spans and of what is left out never differ from what was measured: every span is a sum of whole intervals.
func TestASpanIsASumOfWholeIntervals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		forecasts, usages, _ := drawn(t)
		for _, f := range forecasts {
			from := float64(f.Origin + 1)
			s, why := covered(usages, from, from+91)
			if why != "" {
				continue
			}
			sum, days := 0.0, 0.0
			for _, u := range usages {
				if u.Start >= s.start && u.End <= s.end {
					sum, days = sum+float64(u.Litres), days+u.Days()
				}
			}
			if math.Abs(sum-s.litres) > 1e-6 || math.Abs(days-s.days()) > 1e-6 || math.Abs(s.start-from) > Tolerance || math.Abs(s.end-from-91) > Tolerance {
				t.Fatalf("%+v holds %v L of %v days", s, sum, days)
			}
		}
	})
}

// Each month's mean daily burn is 100·e^z with z normal of deviation 0.1, and so is the forecast of it; 4 000 months of such a
// truth lie inside the 80 and 95 % ranges as often as a binomial count may, with three standard errors: 80 ± 1.9 and 95 ± 1.0 %.
// The mean loss of the true quantiles is less than that of a forecast which is too sure by half, or too unsure by twice: the
// score is proper.
func TestTheRightForecastCoversTheTruthAndLosesLeast(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 0))
	z := []float64{-1.959964, -1.281552, -0.674490, 0, 0.674490, 1.281552, 1.959964} // normal points of Levels
	widths := []float64{1, 0.5, 2}
	losses := make([]float64, len(widths))
	inside80, inside95 := 0, 0
	const months, days = 4000, 30
	for range months {
		actual := days * 100 * math.Exp(0.1*random.NormFloat64())
		for w, width := range widths {
			litres := make([]int64, len(z))
			for i := range z {
				litres[i] = int64(math.Round(days * 100 * math.Exp(0.1*width*z[i])))
			}
			f := Forecast{Origin: origin, Quantiles: Quantiles{Levels: Levels, Days: []int{days}, Litres: [][]int64{litres}}}
			o, why := outcome(f, 1, []forecast.Interval{interval(float64(origin+1), float64(origin+31), actual)})
			if why != "" {
				t.Fatal(why)
			}
			losses[w] += o.Pinball / months
			if w == 0 {
				inside80 += count(o.Inside80)
				inside95 += count(o.Inside95)
			}
		}
	}
	if p := float64(inside80) / months; math.Abs(p-0.80) > 0.019 {
		t.Errorf("%.3f lie inside 80 %%", p)
	}
	if p := float64(inside95) / months; math.Abs(p-0.95) > 0.0104 {
		t.Errorf("%.3f lie inside 95 %%", p)
	}
	if losses[0] >= losses[1] || losses[0] >= losses[2] {
		t.Errorf("mean losses %v: the right forecast does not lose least", losses)
	}
}
