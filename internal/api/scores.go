package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/score"
)

// ScoresAnswer is how good a plant's own forecasts of consumption were.
type ScoresAnswer struct {
	Head
	Subject
	LedgerVersion *int64        `json:"ledger_version"`
	Tolerance     float64       `json:"tolerance_days"`
	Scores        *score.Scores `json:"scores"`
}

func (a *API) scoresOperation() {
	register(a, huma.Operation{
		OperationID: "get-forecast-scores", Path: "/plants/{plant}/forecast-scores", Tags: []string{"Advice"},
		Summary: "How good a plant's own forecasts were",
		Description: "The first forecast of consumption of each month is kept as it was issued and never changed. Here each is held against what was burned over " +
			"its first 1, 3, 6 and 12 months, once these have passed. It is scored with what the ledger holds now, corrections included, so a score may change when a " +
			"reading is corrected. A span counts only where believed usage covers it from reading to reading without a gap: nothing measured is shared out over days. " +
			"Where the readings lie beside the ends of the span, by no more than the tolerance, the forecast is read at the length that was measured, straight between the " +
			"days for which it was kept, a week apart at most. Spans that overlap are not independent: shares are given the range of as many trials as there are spans apart from each other.",
	}, plantErrors(), a.getScores)
}

func (a *API) getScores(ctx context.Context, q *PlantQuestion) (*ScoresAnswer, error) {
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		return nil, err
	}
	p, err := in.Plant(q.Plant)
	if err != nil {
		return nil, err
	}
	return &ScoresAnswer{headOf(p), subjectOf(p), stated(in.Ledger(p.Plant)), score.Tolerance, p.Scores}, nil
}
