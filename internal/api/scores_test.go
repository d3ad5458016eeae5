package api_test

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"overwinter/internal/api"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/score"
)

// keepForecast keeps a forecast of a steady burn for a plant, as if it had been issued on the evening of its origin.
func keepForecast(t *testing.T, w *world, plant string, origin calendar.Day, perDay int64) {
	t.Helper()
	q := score.Quantiles{Levels: score.Levels, Days: []int{7, 30, 364}}
	for _, day := range q.Days {
		var litres []int64
		for _, percent := range []int64{70, 80, 90, 100, 110, 120, 130} {
			litres = append(litres, int64(day)*perDay*percent/100)
		}
		q.Litres = append(q.Litres, litres)
	}
	body, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	err = w.db.SaveForecast(t.Context(), inventory.IssuedForecast{
		Plant: plant, Origin: origin, IssuedAt: time.Date(2026, 1, 1, 3, 0, 0, 0, time.UTC), ModelVersion: "6", InputsVersion: "x", Seed: seed, Body: body,
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestForecastsAreScoredAsWhatTheyForecastComesIn(t *testing.T) {
	w := open(t)
	var before api.ScoresAnswer
	w.get("/api/v1/plants/marten-spit/forecast-scores").want(t, 200).read(t, &before)
	if before.Scores == nil || before.Scores.Issued != 0 || len(before.Scores.Lengths) != 0 || before.LedgerVersion == nil {
		t.Fatalf("without forecasts: %+v", before)
	}
	const perDay = 300
	keepForecast(t, w, "marten-spit", calendar.Date(2025, time.December, 31), perDay)
	keepForecast(t, w, "marten-spit", calendar.Date(2026, time.January, 31), perDay)
	keepForecast(t, w, "marten-spit", calendar.Date(2026, time.February, 28), perDay)
	if _, err := adviser(w.db).Plant(t.Context(), "marten-spit"); err != nil {
		t.Fatal(err)
	}
	var got api.ScoresAnswer
	w.get("/api/v1/plants/marten-spit/forecast-scores").want(t, 200).read(t, &got)
	if got.Plant != "marten-spit" || got.AsOf.String() != "2026-03-02" || got.Tolerance != 3.5 || got.Scores.Issued != 3 ||
		got.Scores.First.String() != "2025-12-31" || got.Scores.NextDue.String() != "2026-03-31" || len(got.Scores.Lengths) != 1 {
		t.Fatalf("%+v", got)
	}
	month := got.Scores.Lengths[0]
	if month.Months != 1 || month.Due != 2 || month.Scored != len(month.Newest) || month.Scored == 0 {
		t.Fatalf("%+v", month)
	}
	for _, o := range month.Newest {
		if median := perDay * o.Days; math.Abs(o.Median-median) > 2 || math.Abs(o.Error-100*(o.Median-o.Actual)/o.Actual) > 1e-9 ||
			math.Abs(o.Days-30) > 2*got.Tolerance || o.Inside80 != (o.Low80 <= o.Actual && o.Actual <= o.High80) {
			t.Errorf("%+v", o)
		}
	}
}
