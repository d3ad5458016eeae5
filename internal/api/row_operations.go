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

// rowOnce is said of every report of a row.
const rowOnce = " What looks doubtful is written all the same, and the answer names it. With replaces it stands in the place of an earlier row of its kind, which stays in the ledger."

// rowReported adds the operation that takes rows of one kind in. Its name and its path come from the name of the kind.
func rowReported[B rowBody](a *API, kind, summary, description string, example B) {
	op := huma.Operation{
		OperationID: "report-" + kind, Path: "/plants/{plant}/" + kind + "s", Summary: summary, Description: description + rowOnce,
	}
	reported(a, op, (*sent[B]).parts, example, func(ctx context.Context, in *sent[B]) (intake.Receipt, error) {
		by := in.Body.amends()
		return a.Intake.Row(ctx, intake.RowReport{
			Report: in.of(by.Who, by.Why), Replaces: text(by.Replaces), Row: in.Body.row(in.Plant),
		})
	}, asNamed[B])
}

func (a *API) rowOperations() {
	rowReported(a, "meter-reading", "Report a meter reading", "What one meter's register showed.", readingExample())
	rowReported(a, "meter-swap", "Report a meter swap",
		"A meter changed for another, or its register reset, under the same id.", swapExample())
	rowReported(a, "meter-proving", "Report a meter proving",
		"A meter held against a known volume: the factor counts from then on, until the meter is swapped.", provingExample())
	rowReported(a, "period-total", "Report a period total",
		"What the whole plant burned from one day to another, both included.", totalExample())
	rowReported(a, "transfer", "Report a transfer",
		"Fuel moved between the plant's own tanks by other ways than the metered line. One that still runs is open; its end replaces it.", transferExample())
	rowReported(a, "draw", "Report a draw",
		"Fuel that leaves for anything but generation; a repayment is a loan given back in kind, and comes in.", drawExample())
	rowReported(a, "count-correction", "Report a count correction",
		"A correction of book stock after a stock count: neither consumption nor a draw.", countExample())
	rowReported(a, "product-change", "Report a change of product", "Another product in a tank from a moment on.", productChangeExample())
	rowReported(a, "load-change", "Report a change of load",
		"A change of the plant's use that is known without its readings, past or to come: a load connected, fuel displaced by wind, sun, water or an intertie, a plant put on standby. The forecast counts it from its first day on; changes that overlap multiply.", loadChangeExample())
	rowReported(a, "degree-day", "Report degree days",
		"How cold it was at the plants of the plant's climate group from one day to another, both included. Each day of a group is told once, and all under one base. The advice for the other plants of the group follows within minutes.", degreeDaysExample())
	a.aboutRows()
}

// aboutRows adds the operations that speak of a row which is there.
func (a *API) aboutRows() {
	reported(a, huma.Operation{
		OperationID: "confirm-row", Path: "/plants/{plant}/confirmations", Summary: "Confirm a doubtful row",
		Description: "Somebody looked once more, and the row is right: the books count it from then on, whatever looks doubtful about it.",
	}, (*sent[ConfirmationBody]).parts, confirmationExample(),
		func(ctx context.Context, in *sent[ConfirmationBody]) (intake.Receipt, error) {
			b := in.Body
			return a.Intake.Confirm(ctx, intake.Confirmation{Report: in.of(&b.Who, &b.Why), Kind: inventory.Kind(b.Kind), Row: b.Row})
		}, asNamed[ConfirmationBody])
	reported(a, huma.Operation{
		OperationID: "withdraw-row", Path: "/plants/{plant}/withdrawals", Summary: "Withdraw a row",
		Description: "The row was wrong and nothing stands in its place. It stays in the ledger, out of force. An order is cancelled instead.",
	}, (*sent[WithdrawalBody]).parts, withdrawalExample(),
		func(ctx context.Context, in *sent[WithdrawalBody]) (intake.Receipt, error) {
			b := in.Body
			return a.Intake.Withdraw(ctx, intake.Withdrawal{Report: in.of(&b.Who, &b.Why), Kind: inventory.Kind(b.Kind), Row: b.Row})
		}, asNamed[WithdrawalBody])
}

// The examples of rows are of the demo's plant marten-spit, like those of reports.

func by(who string) AmendBody { return AmendBody{Who: &who} }

func readingExample() ReadingBody {
	return ReadingBody{AmendBody: by("A. Operator"), At: exampleMoment, Meter: "fuel", Register: 83624, Temperature: stated(units.Celsius(4.5))}
}

func swapExample() SwapBody {
	return SwapBody{AmendBody: by("A. Operator"), At: exampleMoment.Add(time.Hour), Meter: "fuel", Closing: stated(83627.0), Opening: stated(12.0)}
}

func provingExample() ProvingBody {
	return ProvingBody{AmendBody: by("A. Inspector"), At: exampleMoment, Meter: "fuel", Factor: 1.0021}
}

func totalExample() TotalBody {
	return TotalBody{
		AmendBody: by("Office"), FirstDay: calendar.Date(2026, time.February, 1), LastDay: calendar.Date(2026, time.February, 28),
		VolumeBody: VolumeBody{Volume: 7600, Basis: stated("15C")}, Energy: stated(27400.0),
	}
}

func transferExample() TransferBody {
	return TransferBody{
		AmendBody: by("A. Operator"), At: exampleMoment, From: "farm-1", To: "farm-2",
		Volume: stated(units.Litres(1200)), Temperature: stated(units.Celsius(-3)), Basis: stated("observed"),
		Open: true, PlannedStop: stated(exampleMoment.Add(2 * time.Hour)),
	}
}

func drawExample() DrawBody {
	return DrawBody{
		AmendBody: by("A. Operator"), FirstDay: calendar.Date(2026, time.March, 1), LastDay: calendar.Date(2026, time.March, 2),
		VolumeBody: VolumeBody{Volume: 400, Temperature: stated(units.Celsius(-3)), Basis: stated("observed")},
		Purpose:    string(inventory.Loan), With: stated("School"),
	}
}

func countExample() CountBody {
	return CountBody{
		AmendBody: by("Office"), Day: calendar.Date(2026, time.February, 28), Product: "diesel-1-s15",
		VolumeBody: VolumeBody{Volume: -310, Basis: stated("15C")},
	}
}

func productChangeExample() ProductChangeBody {
	return ProductChangeBody{AmendBody: by("A. Operator"), At: exampleMoment, Tank: "farm-3", Product: "diesel-arctic"}
}

func loadChangeExample() LoadChangeBody {
	until := calendar.Date(2026, time.October, 1)
	return LoadChangeBody{
		AmendBody: by("Office"), From: calendar.Date(2026, time.May, 1), Until: &until, Added: stated(units.Kilowatts(35)), Uncertainty: stated(20.0),
		Cause: string(inventory.LoadConnected), Note: stated("Fish plant, summer season."),
	}
}

func degreeDaysExample() DegreeDaysBody {
	return DegreeDaysBody{
		AmendBody: by("Office"), FirstDay: calendar.Date(2026, time.February, 1), LastDay: calendar.Date(2026, time.February, 28), Sum: 728.5, Under: 18,
	}
}

func confirmationExample() ConfirmationBody {
	return ConfirmationBody{
		RowNameBody: RowNameBody{Who: "A. Operator", Why: "Read again, both digits.", Row: "marten-spit/fuel/2026-03-02T17:00Z"},
		Kind:        string(inventory.KindReading),
	}
}

func withdrawalExample() WithdrawalBody {
	return WithdrawalBody{
		RowNameBody: RowNameBody{Who: "A. Operator", Why: "The wrong tank was dipped.", Row: "marten-spit/day/2026-03-01T17:00Z"},
		Kind:        string(inventory.KindGauging),
	}
}
