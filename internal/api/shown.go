package api

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// Subject names the plant that an answer is about.
type Subject struct {
	Plant string `json:"plant"`
	Name  string `json:"name"`
	Zone  string `json:"zone"`
}

func subjectOf(p advice.Plant) Subject { return Subject{Plant: p.Plant, Name: p.Name, Zone: p.Zone} }

// PlantQuestion asks about one plant.
type PlantQuestion struct {
	Conditional
	PlantPath
}

// PlantPath is the part of a path that names a plant.
type PlantPath struct {
	Plant string `path:"plant" minLength:"1" maxLength:"200" doc:"The plant's id." example:"marten-spit"`
}

// StockAnswer is a plant's usable stock and how it was reckoned.
type StockAnswer struct {
	Head
	Subject
	Age           *int           `json:"reading_age_days"`
	DaysToEmpty   *int           `json:"days_of_cover_to_empty"`
	DaysToReserve *int           `json:"days_of_cover_to_reserve"`
	Reserve       advice.Reserve `json:"reserve"`
	Stock         advice.Stock   `json:"stock"`
}

// ProjectionAnswer is a plant's stock to come.
type ProjectionAnswer struct {
	Head
	Subject
	Projection  *advice.Projection `json:"projection"`
	ReserveDate resupply.Dates     `json:"reserve_date"`
	DryDate     resupply.Dates     `json:"dry_date"`
	Reserve     advice.Reserve     `json:"reserve"`
	Burn        *advice.Burn       `json:"burn"`
	BurnByMonth []advice.MonthBurn `json:"burn_by_month"`
	OpenOrders  []advice.Expected  `json:"open_orders"`
	Proposed    []advice.Expected  `json:"proposed_orders"`
	Overfull    []advice.Overfull  `json:"overfull"`
	Windows     []advice.Window    `json:"windows"`
}

// AdviceAnswer is what to do at a plant, and why.
type AdviceAnswer struct {
	Head
	Subject
	Status        resupply.Status                 `json:"status"`
	DaysToEmpty   *int                            `json:"days_of_cover_to_empty"`
	DaysToReserve *int                            `json:"days_of_cover_to_reserve"`
	ReserveDate   resupply.Dates                  `json:"reserve_date"`
	DryDate       resupply.Dates                  `json:"dry_date"`
	MustLastUntil *calendar.Day                   `json:"must_last_until"`
	Order         *advice.Order                   `json:"order"`
	Short         *advice.Shortage                `json:"short"`
	OpenOrders    []advice.Expected               `json:"open_orders"`
	Proposed      []advice.Expected               `json:"proposed_orders"`
	Overfull      []advice.Overfull               `json:"overfull"`
	Clearances    []inventory.OrderClearanceState `json:"clearances"`
	Explanation   *Explanation                    `json:"explanation"`
	Faults        []advice.Fault                  `json:"faulty_intervals"`
	ModelVersion  string                          `json:"model_version"`
	InputsVersion string                          `json:"inputs_version"`
	Seed          uint64                          `json:"seed"`
}

func (a *API) adviceOperations() {
	onPlant(a, huma.Operation{
		OperationID: "get-stock", Path: "/plants/{plant}/stock",
		Summary:     "A plant's stock, and how it was reckoned",
		Description: "The usable stock at the close of the as-of day: the last gauging of all tanks, rolled forward by what is known since; and what each tank was last found to hold.",
	}, func(p advice.Plant) *StockAnswer {
		p.Stock.Tanks = list(p.Stock.Tanks)
		return &StockAnswer{headOf(p), subjectOf(p), age(p), p.DaysToEmpty, p.DaysToReserve, p.Reserve, p.Stock}
	})
	onPlant(a, huma.Operation{
		OperationID: "get-projection", Path: "/plants/{plant}/projection",
		Summary:     "A plant's stock to come",
		Description: "The usable stock to come as a range, with the orders on their way and without any other; burn by month; and the windows of the plant's routes.",
	}, func(p advice.Plant) *ProjectionAnswer {
		return &ProjectionAnswer{
			headOf(p), subjectOf(p), p.Projection, p.ReserveDate, p.DryDate, p.Reserve, p.Burn,
			list(p.BurnByMonth), list(p.OpenOrders), list(p.Proposed), list(p.Overfull), list(p.Windows),
		}
	})
	onPlant(a, huma.Operation{
		OperationID: "get-advice", Path: "/plants/{plant}/advice",
		Summary:     "What to do at a plant, and why",
		Description: "Status, dates, the order to place and its lot, or what is short; with the arithmetic of the simulated future that decides it.",
	}, adviceOf)
	a.issuedOperation()
}

func adviceOf(p advice.Plant) *AdviceAnswer {
	return &AdviceAnswer{
		Head: headOf(p), Subject: subjectOf(p), Status: p.Status,
		DaysToEmpty: p.DaysToEmpty, DaysToReserve: p.DaysToReserve, ReserveDate: p.ReserveDate, DryDate: p.DryDate,
		MustLastUntil: p.MustLastUntil, Order: p.Order, Short: p.Short, OpenOrders: list(p.OpenOrders), Proposed: list(p.Proposed), Overfull: list(p.Overfull), Clearances: list(p.Clearances),
		Explanation: explanationOf(p.Explanation), Faults: list(p.Faults),
		ModelVersion: p.ModelVersion, InputsVersion: p.InputsVersion, Seed: p.Seed,
	}
}

// onPlant adds an operation that shows part of a plant's advice in force.
func onPlant[A any](a *API, op huma.Operation, show func(advice.Plant) *A) {
	op.Tags = []string{"Advice"}
	register(a, op, plantErrors(), func(ctx context.Context, q *PlantQuestion) (*A, error) {
		p, err := a.inForce(ctx, q.Plant)
		if err != nil {
			return nil, err
		}
		return show(p), nil
	})
}

// inForce gives a plant's advice in force.
func (a *API) inForce(ctx context.Context, plant string) (advice.Plant, error) {
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		return advice.Plant{}, err
	}
	return in.Plant(plant)
}

func plantErrors() []int { return []int{http.StatusNotFound, http.StatusServiceUnavailable} }

// IssuedQuestion asks for the advice that was issued for a plant.
type IssuedQuestion struct {
	PlantQuestion
	Limit int `query:"limit" minimum:"1" maximum:"1000" default:"50" doc:"At most so many, the newest first."`
}

// IssuedAnswer is the advice that was issued for a plant, newest first.
type IssuedAnswer struct {
	Head
	Subject
	Issued []IssuedAdvice `json:"issued"`
}

// IssuedAdvice is advice as it was issued.
type IssuedAdvice struct {
	Issued        time.Time `json:"issued_at"`
	ModelVersion  string    `json:"model_version"`
	InputsVersion string    `json:"inputs_version"`
	Seed          uint64    `json:"seed"`
	Said          FleetRow  `json:"said"`
}

func (a *API) issuedOperation() {
	register(a, huma.Operation{
		OperationID: "list-issued-advice", Path: "/plants/{plant}/advice/issued", Tags: []string{"Advice"},
		Summary:     "What was advised before",
		Description: "The advice for a plant as it was issued, newest first, by day and then by moment of issue. It is never changed afterwards, so it can be held against what came.",
	}, plantErrors(), a.listIssued)
}

func (a *API) listIssued(ctx context.Context, q *IssuedQuestion) (*IssuedAnswer, error) {
	p, err := a.inForce(ctx, q.Plant)
	if err != nil {
		return nil, err
	}
	all, err := a.Issued.Advice(ctx, q.Plant)
	if err != nil {
		return nil, err
	}
	answer := &IssuedAnswer{Head: headOf(p), Subject: subjectOf(p), Issued: []IssuedAdvice{}}
	for _, i := range all[:min(len(all), q.Limit)] {
		said, err := issuedAdvice(i)
		if err != nil {
			return nil, err
		}
		answer.Issued = append(answer.Issued, said)
	}
	return answer, nil
}

func issuedAdvice(i inventory.Issued) (IssuedAdvice, error) {
	var p advice.Plant
	if err := json.Unmarshal(i.Body, &p); err != nil {
		return IssuedAdvice{}, fault.Wrap(fault.Internal, err, "the advice issued for plant %q as of %s cannot be read", i.Plant, i.AsOf)
	}
	return IssuedAdvice{i.IssuedAt.UTC(), i.ModelVersion, i.InputsVersion, i.Seed, rowOf(p)}, nil
}
