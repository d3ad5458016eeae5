package score

import (
	"math"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// Summary is how good the scored forecasts of one length were.
type Summary struct {
	// Apart is how many of the spans can be chosen so that no two overlap: as many independent trials as there are
	// at most, since forecasts of spans that overlap are right or wrong together.
	Apart       int      `json:"spans_apart"`
	MedianError float64  `json:"median_error_percent"` // with its sign: the bias
	MedianMiss  float64  `json:"median_miss_percent"`  // of the errors without their signs
	Inside80    Coverage `json:"inside_80"`
	Inside95    Coverage `json:"inside_95"`
	Pinball     float64  `json:"pinball_percent"` // mean
	// Against is the comparison with the naive forecast, nil where no span has one.
	Against *Against `json:"against_year_before"`
}

// Coverage is the share of outcomes inside a range, and the 95 % confidence interval of the chance that it stands for.
type Coverage struct {
	Inside  int     `json:"inside"`
	Percent float64 `json:"percent"`
	Low     float64 `json:"low_percent"`
	High    float64 `json:"high_percent"`
}

// Against holds the forecasts against what was burned in the same span a year earlier, over the spans of which both
// are known.
type Against struct {
	Compared          int     `json:"compared"`
	MedianMiss        float64 `json:"median_miss_percent"`
	Pinball           float64 `json:"pinball_percent"`
	YearBeforeMiss    float64 `json:"year_before_median_miss_percent"`
	YearBeforePinball float64 `json:"year_before_pinball_percent"`
}

// summarise sums up outcomes of one length in order of origin; there is at least one.
func summarise(all []Outcome) *Summary {
	s := &Summary{Apart: apart(all)}
	var errors, misses []float64
	inside80, inside95 := 0, 0
	for _, o := range all {
		errors, misses = append(errors, o.Error), append(misses, math.Abs(o.Error))
		s.Pinball += o.Pinball / float64(len(all))
		inside80 += count(o.Inside80)
		inside95 += count(o.Inside95)
	}
	s.MedianError, s.MedianMiss = forecast.Quantile(errors, 0.5), forecast.Quantile(misses, 0.5)
	s.Inside80, s.Inside95 = coverage(inside80, len(all), s.Apart), coverage(inside95, len(all), s.Apart)
	s.Against = against(all)
	return s
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// apart counts the spans that remain where each that overlaps the one taken before is left out; for spans of one
// length, in order, no choice leaves more.
func apart(all []Outcome) int {
	n, end := 0, calendar.Day(math.MinInt32)
	for _, o := range all {
		if o.from >= end {
			n, end = n+1, o.to
		}
	}
	return n
}

func against(all []Outcome) *Against {
	var a Against
	var ours, theirs []float64
	for _, o := range all {
		if o.YearBefore == nil {
			continue
		}
		ours = append(ours, math.Abs(o.Error))
		theirs = append(theirs, math.Abs(percentOf(*o.YearBefore-o.Actual, o.Actual)))
		a.Pinball += o.Pinball
		a.YearBeforePinball += o.yearBeforePinball
	}
	if a.Compared = len(ours); a.Compared == 0 {
		return nil
	}
	a.Pinball /= float64(a.Compared)
	a.YearBeforePinball /= float64(a.Compared)
	a.MedianMiss, a.YearBeforeMiss = forecast.Quantile(ours, 0.5), forecast.Quantile(theirs, 0.5)
	return &a
}

// coverage states a share of outcomes with the uncertainty of so many independent trials.
func coverage(inside, of, trials int) Coverage {
	share := float64(inside) / float64(of)
	low, high := wilson(share, float64(trials))
	return Coverage{Inside: inside, Percent: 100 * share, Low: 100 * low, High: 100 * high}
}

// z975 is the 97.5 % point of the standard normal distribution.
const z975 = 1.959963984540054

// wilson gives the score interval of a binomial chance, with 95 % confidence: E. B. Wilson, "Probable inference, the law of
// succession, and statistical inference", Journal of the American Statistical Association 22 (1927).
func wilson(share, trials float64) (low, high float64) {
	z2 := z975 * z975
	middle := (share + z2/(2*trials)) / (1 + z2/trials)
	half := z975 / (1 + z2/trials) * math.Sqrt(share*(1-share)/trials+z2/(4*trials*trials))
	return max(0, middle-half), min(1, middle+half)
}
