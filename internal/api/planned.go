package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
)

// Optioner sets a plant's plan beside what could be done otherwise and saves nothing; *advice.Adviser does.
type Optioner interface {
	Options(ctx context.Context, plant string) (advice.PlanOptions, error)
}

// PlanAnswer is the plan of a plant over several deliveries.
type PlanAnswer struct {
	Head
	Subject
	Planned *advice.Planned `json:"plan"`
}

// OptionsAnswer is a plan beside what could be done otherwise.
type OptionsAnswer struct {
	PlanAnswer
	Options []advice.PlanOption `json:"options"`
}

func (a *API) planOperations() {
	onPlant(a, huma.Operation{
		OperationID: "get-plan", Path: "/plants/{plant}/plan",
		Summary: "The cheapest plan over the deliveries to come",
		Description: "Which deliveries to order by when, to which level each fills the tanks, what that costs, and the risk, held against futures that the plan was not made from. " +
			"Null where the stock is not known, fewer than two deliveries are in sight, or a route has no price. A planning aid: not accounting or credit advice.",
	}, func(p advice.Plant) *PlanAnswer { return &PlanAnswer{headOf(p), subjectOf(p), p.Planned} })
	register(a, huma.Operation{
		OperationID: "get-plan-options", Path: "/plants/{plant}/plan/options", Tags: []string{"Plants"},
		Summary: "What else could be done, or happen, beside the plan",
		Description: "The plan is worked out with what the ledger holds now and compared on the same futures with each delivery skipped, filled up or fixed in litres beforehand, with each window failing, and with fuel saved. " +
			"Nothing is saved, and the advice in force stays as it is.",
	}, plantErrors(), a.getOptions)
}

func (a *API) getOptions(ctx context.Context, q *PlantQuestion) (*OptionsAnswer, error) {
	got, err := a.Optioner.Options(ctx, q.Plant)
	if err != nil {
		return nil, err
	}
	return &OptionsAnswer{PlanAnswer{
		Head:    Head{AsOf: &got.AsOf, Basis: basis15, Quality: got.Quality, Assumptions: list(got.Assumptions), Notices: list(got.Notices)},
		Subject: Subject{got.Plant, got.Name, got.Zone}, Planned: got.Planned,
	}, list(got.Options)}, nil
}
