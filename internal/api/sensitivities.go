package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// SensitivitiesAnswer is what one change at a time would do to a plant's answer.
type SensitivitiesAnswer struct {
	Head
	Subject
	Status        resupply.Status        `json:"status"`
	Order         *advice.Order          `json:"order"`
	Short         *advice.Shortage       `json:"short"`
	Sensitivities []resupply.Sensitivity `json:"sensitivities"`
}

func (a *API) sensitivitiesOperation() {
	register(a, huma.Operation{
		OperationID: "get-sensitivities", Path: "/plants/{plant}/sensitivities", Tags: []string{"Suppositions"},
		Summary: "What would change a plant's answer most",
		Description: "The plant is worked out with what the ledger holds now, and again on the same simulated futures with one thing changed at a time: lead time, room, risk, reserve, burn, the opening of the window. " +
			"The greatest effect comes first. Nothing is saved, and the advice in force stays as it is. A planning aid: what is changed may not be in anybody's hands.",
	}, plantErrors(), a.getSensitivities)
}

func (a *API) getSensitivities(ctx context.Context, q *PlantQuestion) (*SensitivitiesAnswer, error) {
	got, err := a.Supposer.Sensitivities(ctx, q.Plant)
	if err != nil {
		return nil, err
	}
	return &SensitivitiesAnswer{
		Head:    Head{AsOf: &got.AsOf, Basis: basis15, Quality: got.Quality, Assumptions: list(got.Assumptions), Notices: list(got.Notices)},
		Subject: Subject{got.Plant, got.Name, got.Zone}, Status: got.Status, Order: got.Order, Short: got.Short, Sensitivities: list(got.Sensitivities),
	}, nil
}
