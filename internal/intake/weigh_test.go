package intake

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// month keeps a reading a day for thirty days up to yesterday: 100 L a day through meter one. Then tank a is dipped
// for four days at its usual fall: it is 3 m wide, so that a millimetre of it is π/4 · 9 m² = 7.07 L, and 14 mm are 99 L.
func month(t testing.TB, d *Desk) {
	t.Helper()
	for day := 30; day >= 1; day-- {
		r := round(fmt.Sprint("day-", day), day, float64(5000+100*(30-day)), 0)
		r.Meters = r.Meters[:1]
		must(t)(d.Round(t.Context(), r))
	}
	for day := 9; day > 5; day-- {
		dip(t, d, day, 2000-float64(10-day)*14)
	}
}

func dip(t testing.TB, d *Desk, daysAgo int, depth float64) Receipt {
	t.Helper()
	return must(t)(d.Gauging(t.Context(), report(fmt.Sprint("dip-", daysAgo)), evening(daysAgo),
		TankEntry{Tank: "a", Depth: p(units.Millimetres(depth)), Temperature: p(units.Celsius(4))}))
}

// said writes down what a receipt says of doubts.
func said(r Receipt) (doubts, settled []string) {
	for _, d := range r.Doubts {
		doubts = append(doubts, fmt.Sprintf("%s: %s, %s", d.Key, d.Cause, d.Scope))
	}
	for _, s := range r.Settled {
		settled = append(settled, fmt.Sprintf("%s: %s", s.Key, s.Cause))
	}
	return doubts, settled
}

func says(t testing.TB, r Receipt, doubts, settled []string) {
	t.Helper()
	gotDoubts, gotSettled := said(r)
	if diff := cmp.Diff(doubts, gotDoubts) + cmp.Diff(settled, gotSettled); diff != "" {
		t.Error(diff)
	}
}

func TestADoubtfulRowIsWrittenAndNamedWithItsCause(t *testing.T) {
	total := func(v units.Litres) Checked {
		return &inventory.PeriodTotal{Measure: litres(v), Plant: "bay", FirstDay: march - 28, LastDay: march - 1}
	}
	draw := func() Checked {
		return &inventory.Draw{Measure: litres(100), Plant: "bay", FirstDay: march - 3, LastDay: march - 1, Purpose: inventory.Loan, With: "School"}
	}
	steps := []struct {
		name string
		send func(context.Context, *Desk) (Receipt, error)
		want string
	}{
		// 8 000 would have come after 7 900.
		{"a digit is missing", func(ctx context.Context, d *Desk) (Receipt, error) {
			return d.Row(ctx, RowReport{Report: report("r"), Row: &inventory.MeterReading{Plant: "bay", Meter: "one", At: evening(0), Register: 800}})
		}, "meter-reading/bay/r: digit-dropped, row"},
		{"a total below nothing", func(ctx context.Context, d *Desk) (Receipt, error) {
			return d.Row(ctx, RowReport{Report: report("t"), Row: total(-50)})
		}, "period-total/bay/t: not-positive, row"},
		{"a draw that is there", func(ctx context.Context, d *Desk) (Receipt, error) {
			if _, err := d.Row(ctx, RowReport{Report: report("1"), Row: draw()}); err != nil {
				return Receipt{}, err
			}
			return d.Row(ctx, RowReport{Report: report("2"), Row: draw()})
		}, "draw/bay/2: duplicate, row"},
		// The tank holds π/4 · 9 m² · 1.944 m = 13.7 m³.
		{"a transfer of more than there was", func(ctx context.Context, d *Desk) (Receipt, error) {
			row := &inventory.Transfer{Measure: litres(27_000), Plant: "bay", From: "a", To: "d", At: evening(2)}
			return d.Row(ctx, RowReport{Report: report("x"), Row: row})
		}, "transfer/bay/x: beyond-source, row"},
		// Full, it would hold 28.3 m³.
		{"a delivery of more than the tank", func(ctx context.Context, d *Desk) (Receipt, error) {
			return d.Delivery(ctx, Delivery{Report: report("v"), At: evening(1), Tank: "a", Measure: litres(90_000)})
		}, "delivery/bay/v: beyond-room, row"},
		{"an energy register that falls", func(ctx context.Context, d *Desk) (Receipt, error) {
			if _, err := d.Round(ctx, Round{Report: report("e1"), At: evening(1), Seen: Seen{EnergyRegister: p(1000.0)}}); err != nil {
				return Receipt{}, err
			}
			return d.Round(ctx, Round{Report: report("e2"), At: evening(0), Seen: Seen{EnergyRegister: p(900.0)}})
		}, "round/bay/e2: going-backwards, energy"},
	}
	for _, step := range steps {
		t.Run(step.name, func(t *testing.T) {
			d, _ := newDesk(t)
			month(t, d)
			before := ledgerLen(t, d)
			first := must(t)(step.send(t.Context(), d))
			says(t, first, []string{step.want}, nil)
			if ledgerLen(t, d) == before {
				t.Error("it was not written")
			}
			again := must(t)(step.send(t.Context(), d))
			if diff := cmp.Diff(first.Doubts, again.Doubts, cmp.AllowUnexported(inventory.Doubt{})); diff != "" || again.New != 0 {
				t.Errorf("sent again: %+v %s", again, diff)
			}
		})
	}
}

func TestAReportTellsWhichOtherRowsItMakesDoubtfulOrSettles(t *testing.T) {
	d, _ := newDesk(t)
	month(t, d)
	says(t, dip(t, d, 5, 3000), []string{"gauging/bay/dip-5: rise-unexplained, row"}, nil)
	// The next dip is as high: fuel came that nobody entered.
	says(t, dip(t, d, 4, 2986), []string{"gauging/bay/dip-5: rise-unexplained, run"}, nil)
	// 1 056 mm and the burn of a day are about 7 570 L.
	came := Delivery{Report: report("late"), At: evening(5).Add(-5 * time.Hour), Tank: "a", Measure: litres(7500)}
	says(t, must(t)(d.Delivery(t.Context(), came)), nil, []string{"gauging/bay/dip-5: rise-unexplained"})
	// Without it the doubt is there again.
	gone := must(t)(d.Withdraw(t.Context(), Withdrawal{because("gone"), inventory.KindDelivery, "delivery/bay/late"}))
	says(t, gone, []string{"gauging/bay/dip-5: rise-unexplained, run"}, nil)
	right := must(t)(d.Confirm(t.Context(), Confirmation{because("right"), inventory.KindGauging, "gauging/bay/dip-5"}))
	says(t, right, nil, []string{"gauging/bay/dip-5: rise-unexplained"})
}

func TestACorrectionSettlesWhatWasDoubtful(t *testing.T) {
	d, _ := newDesk(t)
	month(t, d)
	at := func(register float64) Checked {
		return &inventory.MeterReading{Plant: "bay", Meter: "one", At: evening(0), Register: register}
	}
	must(t)(d.Row(t.Context(), RowReport{Report: report("r"), Row: at(800)}))
	got := must(t)(d.Row(t.Context(), RowReport{Report: because("better"), Replaces: "meter-reading/bay/r", Row: at(8000)}))
	says(t, got, nil, []string{"meter-reading/bay/r: digit-dropped"})
}

// halting is a ledger that cannot be read once something was written.
type halting struct {
	Ledger
	written bool
}

func (h *halting) RecordReport(ctx context.Context, r inventory.Report, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	h.written = true
	return h.Ledger.RecordReport(ctx, r, rows, at)
}

func (h *halting) PlantRows(ctx context.Context, plant string, before time.Time) (inventory.Rows, error) {
	if h.written {
		return inventory.Rows{}, errors.New("the ledger is away")
	}
	return h.Ledger.PlantRows(ctx, plant, before)
}

func TestAReportThatIsWrittenDoesNotFailForItsDoubts(t *testing.T) {
	d, _ := newDesk(t)
	sound := d.Ledger
	d.Ledger = &halting{Ledger: sound}
	got := must(t)(d.Row(t.Context(), RowReport{Report: report("k"), Row: everyRow[0](40)}))
	if diff := cmp.Diff([]string{CodeDoubtsNotKnown}, codes(got)); diff != "" || got.New != 1 {
		t.Errorf("%+v %s", got, diff)
	}
	if d.Ledger = sound; ledgerLen(t, d) != 1 {
		t.Error("it was not written")
	}
}
