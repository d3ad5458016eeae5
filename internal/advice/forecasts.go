package advice

import (
	"context"
	"encoding/json"
	"slices"

	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/score"
)

// issuedBefore gives the forecasts that were issued for a plant before its as-of day.
func (r *run) issuedBefore(ctx context.Context, book *inventory.Book) ([]inventory.IssuedForecast, error) {
	all, err := r.kept.Forecasts(ctx, book.Plant.ID)
	return slices.DeleteFunc(all, func(f inventory.IssuedForecast) bool { return f.Origin >= book.AsOf }), err
}

// forecastToKeep gives the forecast to keep with a plant's advice: the first of each month, nil where that month has
// one. What is said for a day of choice was not issued on that day, and is none.
//
// One a month is enough to score by: forecasts of a few days apart see the same readings and the same weather, and
// are right or wrong together. The last day of a month begins the next one, so that spans end where most
// plants read and report.
func (r *run) forecastToKeep(a Plant, m forecast.Model, before []inventory.IssuedForecast) (*inventory.IssuedForecast, error) {
	f := &inventory.IssuedForecast{
		Plant: a.Plant, Origin: a.AsOf, IssuedAt: r.opts.Now, Ledger: r.version,
		ModelVersion: a.ModelVersion, InputsVersion: a.InputsVersion, Seed: a.Seed,
	}
	there := slices.ContainsFunc(before, func(b inventory.IssuedForecast) bool { return b.Month() == f.Month() })
	if r.opts.AsOf != nil || there {
		return nil, nil
	}
	var err error
	f.Body, err = json.Marshal(score.Take(m.Simulate(a.AsOf, score.Days, r.opts.paths(), a.Seed), a.AsOf))
	return f, err
}

// scoresOf holds what was issued against the usage that is believed, movements in doubt left out.
func scoresOf(book *inventory.Book, good []inventory.Usage, issued []inventory.IssuedForecast) *score.Scores {
	sure := slices.DeleteFunc(slices.Clone(good), func(u inventory.Usage) bool { return u.Quality == inventory.Doubtful })
	var forecasts []score.Forecast
	var unreadable notice.List
	for _, f := range issued {
		of := score.Forecast{Origin: f.Origin, IssuedAt: f.IssuedAt, ModelVersion: f.ModelVersion}
		err := json.Unmarshal(f.Body, &of.Quantiles)
		if err == nil {
			err = of.Check()
		}
		if err != nil {
			unreadable.Add(notice.New(notice.Caution, "forecast-unreadable", book.Plant.ID,
				"the forecast kept on %s cannot be read and is not scored: report this", f.Origin))
			continue
		}
		forecasts = append(forecasts, of)
	}
	s := score.Score(forecasts, intervals(book, sure), book.AsOf)
	s.Notices.Add(unreadable...)
	return &s
}
