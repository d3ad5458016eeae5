package score

import (
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/forecast"
)

// Forecast is a forecast of consumption as it was issued.
type Forecast struct {
	Origin       calendar.Day // it begins at its close
	IssuedAt     time.Time
	ModelVersion string
	Quantiles
}

// Outcome is a forecast of a number of months held against what was burned. Litres are at 15 °C.
type Outcome struct {
	Origin       calendar.Day `json:"origin"`
	IssuedAt     time.Time    `json:"issued_at"`
	ModelVersion string       `json:"model_version"`
	// Days is the length from reading to reading, in local days; Shift how much later than the close of the
	// origin it begins, negative where earlier.
	Days       float64  `json:"compared_days"`
	Shift      float64  `json:"shift_days"`
	Actual     float64  `json:"actual_l15"`
	Low95      float64  `json:"forecast_p2_5_l15"`
	Low80      float64  `json:"forecast_p10_l15"`
	Median     float64  `json:"forecast_p50_l15"`
	High80     float64  `json:"forecast_p90_l15"`
	High95     float64  `json:"forecast_p97_5_l15"`
	Error      float64  `json:"error_percent"` // of what was burned; above 0 where too much was forecast
	Inside80   bool     `json:"inside_80"`
	Inside95   bool     `json:"inside_95"`
	Pinball    float64  `json:"pinball_percent"`
	YearBefore *float64 `json:"year_before_l15"`

	from, to          calendar.Day // the span that was forecast: from the beginning of the one day to that of the other
	yearBeforePinball float64
}

// outcome scores a forecast over its first months.
func outcome(f Forecast, months int, usages []forecast.Interval) (Outcome, Reason) {
	from := f.Origin + 1
	to := later(from, months)
	s, why := covered(usages, float64(from), float64(to))
	switch {
	case why != "":
		return Outcome{}, why
	case s.litres <= 0:
		return Outcome{}, NothingBurned
	}
	q, ok := f.at(s.days())
	if !ok {
		return Outcome{}, BeyondForecast
	}
	o := Outcome{
		Origin: f.Origin, IssuedAt: f.IssuedAt, ModelVersion: f.ModelVersion,
		Days: s.days(), Shift: s.start - float64(from), Actual: s.litres,
		Low95: f.level(q, low95), Low80: f.level(q, low80), Median: f.level(q, median), High80: f.level(q, high80), High95: f.level(q, high95),
		Pinball: percentOf(pinball(f.Levels, q, s.litres), s.litres), from: from, to: to,
	}
	o.Error = percentOf(o.Median-s.litres, s.litres)
	o.Inside80 = o.Low80 <= s.litres && s.litres <= o.High80
	o.Inside95 = o.Low95 <= s.litres && s.litres <= o.High95
	o.compare(f.Levels, usages)
	return o, ""
}

// compare sets the naive forecast beside: what was burned a year earlier, at the rate of then for the days of now.
func (o *Outcome) compare(levels []float64, usages []forecast.Interval) {
	before, why := covered(usages, float64(later(o.from, -12)), float64(later(o.to, -12)))
	if why != "" {
		return
	}
	litres := before.litres / before.days() * o.Days
	o.YearBefore = &litres
	same := make([]float64, len(levels))
	for i := range same {
		same[i] = litres
	}
	o.yearBeforePinball = percentOf(pinball(levels, same, o.Actual), o.Actual)
}

// pinball is the mean over the levels p of (y − q)·(p − 1{y < q}), the loss that the p-quantile makes least: R. Koenker,
// G. Bassett, "Regression quantiles", Econometrica 46 (1978). It is a proper score: T. Gneiting, A. Raftery, "Strictly
// proper scoring rules, prediction, and estimation", Journal of the American Statistical Association 102 (2007), section 6.
func pinball(levels, quantiles []float64, y float64) float64 {
	sum := 0.0
	for i, p := range levels {
		if q := quantiles[i]; y < q {
			sum += (q - y) * (1 - p)
		} else {
			sum += (y - q) * p
		}
	}
	return sum / float64(len(levels))
}

func percentOf(part, whole float64) float64 { return 100 * part / whole }
