package lots

import (
	"context"
	"errors"
	"math"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// Answer is the plans of a problem as machines read them; docs/lots.md describes it.
type Answer struct {
	Currency string        `json:"currency"`
	Plants   []PlantAnswer `json:"plants"`
	// Cost and LowerBound are sums over the plants that have a plan.
	Cost       Money `json:"cost"`
	LowerBound Money `json:"lower_bound"`
}

// PlantAnswer is one plant's plan, or why there is none.
type PlantAnswer struct {
	Plant      string            `json:"plant"`
	Proved     bool              `json:"proved_best"`
	Cost       *Cost             `json:"cost"` // null where there is no plan
	LowerBound *Money            `json:"lower_bound"`
	Windows    []WindowAnswer    `json:"windows"`
	Infeasible *InfeasibleAnswer `json:"infeasible"` // null where there is a plan
}

// WindowAnswer is what comes in one window and in the interval after it.
type WindowAnswer struct {
	Window   string            `json:"window"`
	Lot      units.LitresAt15  `json:"lot_l15"`
	Fallback units.LitresAt15  `json:"fallback_l15"`
	Above    units.LitresAt15  `json:"above_need_l15"` // at the end of the interval
	RoomLeft *units.LitresAt15 `json:"room_left_l15"`  // at the arrival; null where there is no bound
	HeldBy   []HoldAnswer      `json:"held_by"`
}

// HoldAnswer is a bound that keeps a lot from being another.
type HoldAnswer struct {
	Kind HoldKind `json:"kind"`
	Name string   `json:"name"` // of the window or the limit
}

// InfeasibleAnswer is the first bound that no plan keeps.
type InfeasibleAnswer struct {
	Window string           `json:"window"`
	Lack   Lack             `json:"lack"`
	Litres units.LitresAt15 `json:"litres_l15"`
	Says   string           `json:"message"`
}

// Solve plans every plant. The error names the plants for which there is no plan; the others have theirs.
func (p *Problem) Solve(ctx context.Context) (Answer, error) {
	a := Answer{Currency: p.Currency, Plants: make([]PlantAnswer, 0, len(p.Plants))}
	var without []fault.Field
	for i := range p.Plants {
		if err := ctx.Err(); err != nil {
			return Answer{}, err
		}
		plant := &p.Plants[i]
		plan, err := plant.Best()
		if err != nil {
			without = append(without, fault.Field{Where: plant.Name, Message: err.Error()})
			a.Plants = append(a.Plants, plant.without(err))
			continue
		}
		a.Plants = append(a.Plants, plant.answer(plan))
		a.Cost += plan.Cost.Total
		a.LowerBound += plan.Bound
	}
	if without != nil {
		return a, fault.New(fault.Invalid, "no plan keeps all bounds").With(without...)
	}
	return a, nil
}

func (p *Plant) without(err error) PlantAnswer {
	a := PlantAnswer{Plant: p.Name, Windows: []WindowAnswer{}}
	var why *Infeasible
	if errors.As(err, &why) {
		a.Infeasible = &InfeasibleAnswer{Window: p.Windows[why.Window].Name, Lack: why.Lack, Litres: why.Litres, Says: why.Error()}
	}
	return a
}

func (p *Plant) answer(plan *Plan) PlantAnswer {
	a := PlantAnswer{Plant: p.Name, Proved: plan.Proved, Cost: &plan.Cost, LowerBound: &plan.Bound, Windows: make([]WindowAnswer, 0, len(p.Windows))}
	room := p.slacks(plan)
	delivered := units.LitresAt15(0)
	for w := range p.Windows {
		v := &p.Windows[w]
		delivered += plan.Lots[w] + plan.Fallback[w]
		answer := WindowAnswer{Window: v.Name, Lot: plan.Lots[w], Fallback: plan.Fallback[w], Above: max(0, delivered-v.Need), HeldBy: []HoldAnswer{}}
		if left := units.LitresAt15(max(0, room[w])); !math.IsInf(float64(left), 1) {
			answer.RoomLeft = &left
		}
		for _, h := range plan.Held[w] {
			name := ""
			if h.Kind == LimitIsMet {
				name = p.Limits[h.At].Name
			} else {
				name = p.Windows[h.At].Name
			}
			answer.HeldBy = append(answer.HeldBy, HoldAnswer{h.Kind, name})
		}
		a.Windows = append(a.Windows, answer)
	}
	return a
}
