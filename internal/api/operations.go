package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

type roundReport struct {
	Report
	Body RoundBody
}

type gaugingReport struct {
	Report
	Body GaugingBody
}

type deliveryReport struct {
	Report
	Body DeliveryBody
}

type orderReport struct {
	Report
	Body OrderBody
}

type orderStateReport struct {
	Report
	Order string `path:"order" minLength:"1" maxLength:"64" doc:"The order's id." example:"northgate-early-summer-2026"`
	Body  OrderStateBody
}

// asNamed is for reports whose fields the intake names as the body does, but for the unit.
func asNamed[B any](_ *B, field string) string { return withUnit(field) }

// once is said of every report.
const once = " The report is written whole or not at all, and the plant is advised anew at once."

func (a *API) reportOperations() {
	reported(a, huma.Operation{
		OperationID: "report-round", Path: "/plants/{plant}/rounds", Summary: "Report a round",
		Description: "One visit: the registers of meters and the depth or volume of tanks, all at one moment." + once,
	}, func(in *roundReport) (Report, *RoundBody) { return in.Report, &in.Body }, roundExample(),
		func(ctx context.Context, in *roundReport) (intake.Receipt, error) {
			return a.Intake.Round(ctx, in.Body.round(in.of(in.Body.Who)))
		}, (*RoundBody).field)
	reported(a, huma.Operation{
		OperationID: "report-gauging", Path: "/plants/{plant}/gaugings", Summary: "Report a gauging",
		Description: "One measurement of one tank: a depth or a volume." + once,
	}, func(in *gaugingReport) (Report, *GaugingBody) { return in.Report, &in.Body }, gaugingExample(),
		func(ctx context.Context, in *gaugingReport) (intake.Receipt, error) {
			return a.Intake.Gauging(ctx, in.of(in.Body.Who), in.Body.At, in.Body.entry(in.Body.Tank))
		}, asNamed[GaugingBody])
	reported(a, huma.Operation{
		OperationID: "report-delivery", Path: "/plants/{plant}/deliveries", Summary: "Report a delivery",
		Description: "Fuel received from outside." + once,
	}, func(in *deliveryReport) (Report, *DeliveryBody) { return in.Report, &in.Body }, deliveryExample(), a.delivery, asNamed[DeliveryBody])
	reported(a, huma.Operation{
		OperationID: "report-order", Path: "/plants/{plant}/orders", Summary: "Report an order",
		Description: "Fuel ordered for a plant, with the 10, 50 and 90 % points of its arrival." + once,
	}, func(in *orderReport) (Report, *OrderBody) { return in.Report, &in.Body }, orderExample(), a.order, orderField)
	reported(a, huma.Operation{
		OperationID: "report-order-state", Path: "/plants/{plant}/orders/{order}/state", Summary: "Report an order's state",
		Description: "Moves an order to another state, and its expected arrival where that has changed. The order's earlier states stay in the ledger." + once,
	}, func(in *orderStateReport) (Report, *OrderStateBody) { return in.Report, &in.Body }, orderStateExample(), a.orderState, asNamed[OrderStateBody])
}

func (a *API) delivery(ctx context.Context, in *deliveryReport) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.Delivery(ctx, intake.Delivery{
		Report: in.of(b.Who), Measure: b.measure(), Tank: text(b.Tank), At: b.At, Order: text(b.Order), Document: text(b.Document),
	})
}

func (a *API) order(ctx context.Context, in *orderReport) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.Order(ctx, intake.Order{
		Report: in.of(b.Who), Measure: b.measure(), ID: b.Order, Route: text(b.Route), State: inventory.OrderState(b.State),
		OrderedOn: b.OrderedOn, Early: b.Early, Likely: b.Likely, Late: b.Late,
	})
}

func (a *API) orderState(ctx context.Context, in *orderStateReport) (intake.Receipt, error) {
	b := in.Body
	return a.Intake.ChangeOrder(ctx, intake.OrderChange{
		Report: in.of(b.Who), ID: in.Order, State: inventory.OrderState(b.State), Early: b.Early, Likely: b.Likely, Late: b.Late, Why: text(b.Why),
	})
}

// orderField names the order's id as the body does.
func orderField(_ *OrderBody, field string) string {
	if field == "id" {
		return "order"
	}
	return withUnit(field)
}

// The examples are of the demo's plant marten-spit on its last day, and can be sent to it as they stand; the
// order's state is of northgate-early-summer-2026 at northgate.
var exampleMoment = time.Date(2026, time.March, 2, 20, 30, 0, 0, time.UTC)

func roundExample() RoundBody {
	return RoundBody{
		Who: stated("A. Operator"), At: exampleMoment,
		Meters: []MeterBody{{Meter: "fuel", Register: 83626, Temperature: stated(units.Celsius(4.5))}},
		Tanks:  []TankBody{{Tank: "farm-2", MeasureBody: MeasureBody{Depth: stated(units.Millimetres(1930)), Water: new(units.Millimetres), Temperature: stated(units.Celsius(-3))}}},
	}
}

func gaugingExample() GaugingBody {
	return GaugingBody{Who: stated("A. Operator"), At: exampleMoment, Tank: "farm-3", MeasureBody: MeasureBody{
		Depth: stated(units.Millimetres(2436)), Temperature: stated(units.Celsius(-3)), Precision: stated(units.Millimetres(3)),
	}}
}

func deliveryExample() DeliveryBody {
	return DeliveryBody{
		Who: stated("A. Operator"), At: exampleMoment, Tank: stated("farm-1"), Document: stated("BOL 4711"),
		VolumeBody: VolumeBody{Volume: 9000, Temperature: stated(units.Celsius(-2)), Basis: stated("observed")},
	}
}

func orderExample() OrderBody {
	return OrderBody{
		Who: stated("Fuel desk"), Order: "PO-900", VolumeBody: VolumeBody{Volume: 60000, Basis: stated("15C")}, State: string(inventory.Committed),
		OrderedOn: calendar.Date(2026, time.March, 2), Early: calendar.Date(2026, time.June, 10),
		Likely: calendar.Date(2026, time.June, 20), Late: calendar.Date(2026, time.July, 5),
	}
}

func orderStateExample() OrderStateBody {
	return OrderStateBody{Who: stated("Fuel desk"), State: string(inventory.Cancelled), Why: stated("The supplier withdrew.")}
}
