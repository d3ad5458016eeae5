package intake

import (
	"context"
	"errors"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func TestAFailedRefreshIsNoFailedReport(t *testing.T) {
	d, refresh := newDesk(t)
	refresh.fail(errors.New("no room"))
	if got := must(t)(d.Round(t.Context(), round("k", 0, 1, 1))); got.New != 2 || got.Advised {
		t.Errorf("%+v, want it written and not advised", got)
	}
	refresh.fail(nil)
	if got := must(t)(d.Round(t.Context(), round("k", 0, 1, 1))); !got.Advised || refresh.calls != 2 {
		t.Errorf("%+v after %d calls, want the lag made good", got, refresh.calls)
	}
	if must(t)(d.Round(t.Context(), round("k", 0, 1, 1))); refresh.calls != 2 {
		t.Errorf("advised %d times, want no more than twice", refresh.calls)
	}
}

// hangUp is a ledger whose sender goes away as soon as the report is written.
type hangUp struct {
	Ledger
	cancel context.CancelFunc
}

func (h hangUp) RecordReport(ctx context.Context, r inventory.Report, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	defer h.cancel()
	return h.Ledger.RecordReport(ctx, r, rows, at)
}

func TestAdviceIsRenewedThoughTheSenderHasHungUp(t *testing.T) {
	d, refresh := newDesk(t)
	ctx, cancel := context.WithCancel(t.Context())
	d.Ledger = hangUp{d.Ledger, cancel}
	if got := must(t)(d.Round(ctx, round("k", 0, 1, 1))); !got.Advised || refresh.ended {
		t.Errorf("%+v, ended %v: want it advised on a context that goes on", got, refresh.ended)
	}
}

// The service ended between the report and its forecast, or another way brought the row: the sender heard
// nothing and sends the report again. It is said to be counted in only once it is.
func TestAReportSentAgainIsAdvisedWhereTheAdviceLeavesItOut(t *testing.T) {
	depth := p(units.Millimetres(900))
	reports := map[string]func(d *Desk) (Receipt, error){
		"round": func(d *Desk) (Receipt, error) { return d.Round(t.Context(), round("k", 0, 1, 1)) },
		"gauging": func(d *Desk) (Receipt, error) {
			return d.Gauging(t.Context(), report("k"), evening(0), TankEntry{Tank: "a", Depth: depth})
		},
		"delivery": func(d *Desk) (Receipt, error) {
			return d.Delivery(t.Context(), Delivery{Report: report("k"), At: evening(0), Tank: "a", Measure: inventory.Measure{Volume: 1000, Basis: inventory.Basis15}})
		},
		"order":  func(d *Desk) (Receipt, error) { return d.Order(t.Context(), anOrder("k", "P")) },
		"change": func(d *Desk) (Receipt, error) { return d.ChangeOrder(t.Context(), change("k", inventory.InTransit)) },
	}
	for name, send := range reports {
		t.Run(name, func(t *testing.T) {
			d, refresh := newDesk(t)
			must(t)(d.Order(t.Context(), anOrder("first", "O")))
			killed := *d
			killed.Refresh = nil
			if got := must(t)(send(&killed)); got.New == 0 || got.Advised {
				t.Fatalf("%+v, want it written and not advised", got)
			}
			if got := must(t)(send(&killed)); got.Known == 0 || got.Advised {
				t.Errorf("sent again: %+v, want it known and not advised", got)
			}
			refresh.calls = 0
			if got := must(t)(send(d)); got.Known == 0 || !got.Advised || refresh.calls != 1 {
				t.Errorf("%+v after %d forecasts, want it known and advised by one", got, refresh.calls)
			}
			if got := must(t)(send(d)); !got.Advised || refresh.calls != 1 {
				t.Errorf("%+v after %d forecasts, want no further one", got, refresh.calls)
			}
		})
	}
}
