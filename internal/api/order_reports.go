package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// OrderBody is fuel ordered for a plant.
type OrderBody struct {
	Who   *string `json:"who,omitempty" nullable:"true" maxLength:"200"`
	Order string  `json:"order" minLength:"1" maxLength:"64"`
	VolumeBody
	Route     *string       `json:"route,omitempty" nullable:"true" maxLength:"64"`
	State     string        `json:"state" enum:"proposed,cleared,ordered,committed,loaded,in-transit"`
	StateAt   *time.Time    `json:"state_at,omitempty" nullable:"true"`
	OrderedOn calendar.Day  `json:"ordered_on" format:"date"`
	OrderBy   *calendar.Day `json:"order_by,omitempty" nullable:"true" format:"date"`
	Early     calendar.Day  `json:"early" format:"date"`
	Likely    calendar.Day  `json:"likely" format:"date"`
	Late      calendar.Day  `json:"late" format:"date"`
}

// OrderStateBody moves an order to another state.
type OrderStateBody struct {
	Who     *string       `json:"who,omitempty" nullable:"true" maxLength:"200"`
	State   string        `json:"state" enum:"proposed,cleared,ordered,committed,loaded,in-transit,received,closed,cancelled"`
	StateAt *time.Time    `json:"state_at,omitempty" nullable:"true"`
	OrderBy *calendar.Day `json:"order_by,omitempty" nullable:"true" format:"date"`
	Early   *calendar.Day `json:"early,omitempty" nullable:"true" format:"date"`
	Likely  *calendar.Day `json:"likely,omitempty" nullable:"true" format:"date"`
	Late    *calendar.Day `json:"late,omitempty" nullable:"true" format:"date"`
	Why     *string       `json:"why,omitempty" nullable:"true" maxLength:"2000"`
}

// ClearanceBody says how a clearance of an order stands.
type ClearanceBody struct {
	Who        *string       `json:"who,omitempty" nullable:"true" maxLength:"200"`
	Why        *string       `json:"why,omitempty" nullable:"true" maxLength:"2000"`
	Clearance  string        `json:"clearance" minLength:"1" maxLength:"64"`
	LastSafeOn *calendar.Day `json:"last_safe_on,omitempty" nullable:"true" format:"date"`
	TakesDays  *int          `json:"takes_days,omitempty" nullable:"true" minimum:"0" maximum:"3660"`
	ClearedOn  *calendar.Day `json:"cleared_on,omitempty" nullable:"true" format:"date"`
	By         *string       `json:"by,omitempty" nullable:"true" maxLength:"200"`
	Note       *string       `json:"note,omitempty" nullable:"true" maxLength:"2000"`
}

// ofOrder is a report that is about an order which is there.
type ofOrder[B any] struct {
	Report
	Order string `path:"order" minLength:"1" maxLength:"64" doc:"The order's id." example:"northgate-early-summer-2026"`
	Body  B
}

func (in *ofOrder[B]) parts() (Report, *B) { return in.Report, &in.Body }

func (a *API) orderReports() {
	reported(a, huma.Operation{
		OperationID: "report-order", Path: "/plants/{plant}/orders", Summary: "Report an order",
		Description: "Fuel ordered for a plant, or proposed, with the 10, 50 and 90 % points of its arrival. The projection counts on it from ordered on.",
	}, (*sent[OrderBody]).parts, orderExample(), a.order, orderField)
	reported(a, huma.Operation{
		OperationID: "report-order-state", Path: "/plants/{plant}/orders/{order}/state", Summary: "Report an order's state",
		Description: "Moves an order to another state, and its expected arrival where that has changed. The order's earlier states stay in the ledger. " +
			"A step back or over states is written, and the answer names it.",
	}, (*ofOrder[OrderStateBody]).parts, orderStateExample(), a.orderState, asNamed[OrderStateBody])
	reported(a, huma.Operation{
		OperationID: "report-clearance", Path: "/plants/{plant}/orders/{order}/clearances", Summary: "Report an order's clearance",
		Description: "A gate that an order must pass, such as credit, a signature or a permit; and, later, that it was given. What is left out stays as it was said before. " +
			"A clearance that is not given by its last safe day is a notice of the plant's advice, from 14 days before on.",
	}, (*ofOrder[ClearanceBody]).parts, clearanceExample(), a.clearance, asNamed[ClearanceBody])
}

func (a *API) order(ctx context.Context, in *sent[OrderBody]) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.Order(ctx, intake.Order{
		Report: in.of(b.Who, nil), Measure: b.measure(), ID: b.Order, Route: text(b.Route), State: inventory.OrderState(b.State), StateAt: b.StateAt,
		OrderedOn: b.OrderedOn, OrderBy: b.OrderBy, Early: b.Early, Likely: b.Likely, Late: b.Late,
	})
}

func (a *API) orderState(ctx context.Context, in *ofOrder[OrderStateBody]) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.ChangeOrder(ctx, intake.OrderChange{
		Report: in.of(b.Who, b.Why), ID: in.Order, State: inventory.OrderState(b.State), StateAt: b.StateAt,
		OrderBy: b.OrderBy, Early: b.Early, Likely: b.Likely, Late: b.Late,
	})
}

func (a *API) clearance(ctx context.Context, in *ofOrder[ClearanceBody]) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.Clear(ctx, intake.Clearance{
		Report: in.of(b.Who, b.Why), Order: in.Order, Name: b.Clearance, LastSafeOn: b.LastSafeOn, ClearedOn: b.ClearedOn,
		TakesDays: b.TakesDays, By: text(b.By), Note: text(b.Note),
	})
}

// orderField names the order's id as the body does.
func orderField(_ *OrderBody, field string) string {
	if field == "id" {
		return "order"
	}
	return withUnit(field)
}

func orderExample() OrderBody {
	return OrderBody{
		Who: stated("Fuel desk"), Order: "PO-900", VolumeBody: VolumeBody{Volume: 60000, Basis: stated("15C")}, State: string(inventory.Ordered),
		OrderedOn: calendar.Date(2026, time.March, 2), Early: calendar.Date(2026, time.June, 10),
		Likely: calendar.Date(2026, time.June, 20), Late: calendar.Date(2026, time.July, 5),
	}
}

func orderStateExample() OrderStateBody {
	return OrderStateBody{Who: stated("Fuel desk"), State: string(inventory.Cancelled), Why: stated("The supplier withdrew.")}
}

func clearanceExample() ClearanceBody {
	return ClearanceBody{
		Who: stated("Fuel desk"), Clearance: "credit", TakesDays: stated(21), LastSafeOn: stated(calendar.Date(2026, time.April, 10)), By: stated("Savings bank"),
	}
}
