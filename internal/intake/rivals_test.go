package intake

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

// eachEngine runs a test on a ledger of each engine.
func eachEngine(t *testing.T, run func(t *testing.T, d *Desk)) {
	engines := map[string]func(t *testing.T) string{
		"sqlite":   func(t *testing.T) string { return filepath.Join(t.TempDir(), "ledger.db") },
		"postgres": func(t *testing.T) string { return pgtest.New(t) },
	}
	for name, url := range engines {
		t.Run(name, func(t *testing.T) {
			db, err := store.Open(t.Context(), url(t))
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = db.Close() })
			if _, err := db.Record(t.Context(), plantRows(), now); err != nil {
				t.Fatal(err)
			}
			run(t, &Desk{Ledger: db, Clock: calendar.At(now)})
		})
	}
}

// race sends reports all at once and gives what became of each.
func race(n int, send func(i int) (Receipt, error)) (receipts []Receipt, errs []error) {
	receipts, errs = make([]Receipt, n), make([]error, n)
	start := make(chan struct{})
	var done sync.WaitGroup
	for i := range n {
		done.Go(func() {
			<-start
			receipts[i], errs[i] = send(i)
		})
	}
	close(start)
	done.Wait()
	return receipts, errs
}

const writers = 8

// Half of the writers correct the row and half withdraw it: one of them wins, and the others are told of it.
func TestOneOfTheWritersWhoCorrectARowWinsAndTheOthersAreToldOfIt(t *testing.T) {
	eachEngine(t, func(t *testing.T, d *Desk) {
		must(t)(d.Row(t.Context(), RowReport{Report: report("first"), Row: everyRow[5](40)}))
		receipts, errs := race(writers, func(i int) (Receipt, error) {
			key := fmt.Sprint("w-", i)
			if i%2 == 0 {
				return d.Withdraw(t.Context(), Withdrawal{because(key), inventory.KindDraw, "draw/bay/first"})
			}
			return d.Row(t.Context(), RowReport{Report: because(key), Replaces: "draw/bay/first", Row: everyRow[5](float64(50 + i))})
		})
		winner := ""
		for i, err := range errs {
			if err == nil && winner != "" {
				t.Fatalf("%d won too", i)
			}
			if err == nil {
				if winner = fmt.Sprint("draw/bay/w-", i); i%2 == 0 {
					winner = fmt.Sprint("withdrawal/bay/w-", i)
				}
				if receipts[i].New != 1 {
					t.Errorf("%+v", receipts[i])
				}
			}
		}
		for i, err := range errs {
			if err == nil {
				continue
			}
			if refused(t, err, fault.Conflict); !strings.Contains(err.Error(), winner) {
				t.Errorf("%d was told %v, want it to name %s", i, err, winner)
			}
		}
		for _, r := range ledger(t, d).Draws {
			if r.Key != winner {
				t.Errorf("%s is in force, %s won", r.Key, winner)
			}
		}
	})
}

func TestOneReportThatIsSentManyTimesAtOnceIsWrittenOnce(t *testing.T) {
	eachEngine(t, func(t *testing.T, d *Desk) {
		receipts, errs := race(writers, func(int) (Receipt, error) { return d.Delivery(t.Context(), wholeDelivery()) })
		written := 0
		for i, r := range receipts {
			if errs[i] != nil {
				t.Fatal(errs[i])
			}
			if written += r.New; r.New+r.Known != 4 {
				t.Errorf("%+v, want four rows", r)
			}
		}
		if written != 4 || ledgerLen(t, d) != 4 {
			t.Errorf("%d rows written, %d in force, want four", written, ledgerLen(t, d))
		}
	})
}

func TestReportsOfManyAtOnceAreAllKept(t *testing.T) {
	eachEngine(t, func(t *testing.T, d *Desk) {
		_, errs := race(writers, func(i int) (Receipt, error) {
			return d.Row(t.Context(), RowReport{Report: report(fmt.Sprint(i)), Row: everyRow[i](float64(40 + i))})
		})
		for _, err := range errs {
			if err != nil {
				t.Error(err)
			}
		}
		if got := ledgerLen(t, d); got != writers {
			t.Errorf("%d rows in force, want %d", got, writers)
		}
	})
}
