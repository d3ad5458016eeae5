package api

import (
	"context"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/intake"
	"overwinter/internal/units"
)

// sent is a report with its body.
type sent[B any] struct {
	Report
	Body B
}

func (in *sent[B]) parts() (Report, *B) { return in.Report, &in.Body }

// asNamed is for reports whose fields the intake names as the body does, but for the unit.
func asNamed[B any](_ *B, field string) string { return withUnit(field) }

func (a *API) reportOperations() {
	reported(a, huma.Operation{
		OperationID: "report-round", Path: "/plants/{plant}/rounds", Summary: "Report a round",
		Description: "One visit: the registers of meters, the depth or volume of tanks, and what else was seen, all at one moment.",
	}, (*sent[RoundBody]).parts, roundExample(),
		func(ctx context.Context, in *sent[RoundBody]) (intake.Receipt, error) {
			return a.Intake.Round(ctx, in.Body.round(in.of(in.Body.Who, in.Body.Why)))
		}, (*RoundBody).field)
	reported(a, huma.Operation{
		OperationID: "report-gauging", Path: "/plants/{plant}/gaugings", Summary: "Report a gauging",
		Description: "One measurement of one tank: a depth or a volume.",
	}, (*sent[GaugingBody]).parts, gaugingExample(),
		func(ctx context.Context, in *sent[GaugingBody]) (intake.Receipt, error) {
			return a.Intake.Gauging(ctx, in.of(in.Body.Who, in.Body.Why), in.Body.At, in.Body.entry(in.Body.Tank))
		}, asNamed[GaugingBody])
	reported(a, huma.Operation{
		OperationID: "report-delivery", Path: "/plants/{plant}/deliveries", Summary: "Report a delivery",
		Description: "Fuel received from outside: what was agreed on, what the document, a meter and the dips say, and into which tanks it went.",
	}, (*sent[DeliveryBody]).parts, deliveryExample(), a.delivery, (*DeliveryBody).field)
}

// The examples are of the demo's plant marten-spit on its last day, and can be sent to it as they stand; the
// order's state is of northgate-early-summer-2026 at northgate.
var exampleMoment = time.Date(2026, time.March, 2, 20, 30, 0, 0, time.UTC)

func roundExample() RoundBody {
	return RoundBody{
		AmendBody: AmendBody{Who: stated("A. Operator")}, At: exampleMoment,
		Meters:     []MeterBody{{Meter: "fuel", Register: 83626, Temperature: stated(units.Celsius(4.5))}},
		Tanks:      []TankBody{{Tank: "farm-2", MeasureBody: MeasureBody{ReadBody: ReadBody{Depth: stated(units.Millimetres(1930)), Water: new(units.Millimetres), Temperature: stated(units.Celsius(-3))}}}},
		FilterBowl: stated("clear"), Alarms: []string{"low-level"}, PumpRunning: new(bool),
		RunningHours: stated(40512.5), EnergyRegister: stated(2914800.0), Note: stated("Float of the day tank sticks."),
	}
}

func gaugingExample() GaugingBody {
	return GaugingBody{Who: stated("A. Operator"), At: exampleMoment, Tank: "farm-3", MeasureBody: MeasureBody{ReadBody: ReadBody{
		Depth: stated(units.Millimetres(2436)), Temperature: stated(units.Celsius(-3)), Precision: stated(units.Millimetres(3)),
	}}}
}
