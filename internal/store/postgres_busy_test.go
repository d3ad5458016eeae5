package store

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
	"overwinter/internal/store/pgtest"
)

// A small pool must not lock itself up, nor may writers that wait keep readers out.
func TestReadersAreServedWhileWritersWait(t *testing.T) {
	url := NewPostgresLedger(t, pgtest.Shared(t))
	db := OpenAndClose(t, with(t, url, "", "pool_max_conns", "3"))
	release := holdTheLock(t, url)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if _, err := db.Record(t.Context(), onePlant("p"), time.Unix(0, 0)); err != nil {
				t.Errorf("Record: %v", err)
			}
		})
	}
	if _, err := db.Directory(t.Context()); err != nil {
		t.Errorf("Directory: %v", err)
	}
	release()
	all.Wait()
}

// holdTheLock lets another instance write until it is released, or the test ends.
func holdTheLock(t *testing.T, url string) (release func()) {
	t.Helper()
	other := OpenAndClose(t, url)
	held, released, ended := make(chan struct{}), make(chan struct{}), make(chan error, 1)
	go func() {
		ended <- other.write(context.Background(), func(dialect.Tx) error {
			close(held)
			<-released
			return nil
		})
	}()
	select {
	case <-held:
	case err := <-ended:
		t.Fatal(err)
	}
	release = sync.OnceFunc(func() {
		close(released)
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	t.Cleanup(release)
	return release
}

func TestAWriterThatWaitsTooLongIsUnavailable(t *testing.T) {
	url := NewPostgresLedger(t, pgtest.Shared(t))
	db := OpenAndClose(t, with(t, url, "", "lock_timeout", "1ms"))
	release := holdTheLock(t, url)
	if _, err := db.Record(t.Context(), onePlant("p"), time.Unix(0, 0)); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("Record: %v, want a fault of kind unavailable", err)
	}
	release()
	if _, err := db.Record(t.Context(), onePlant("p"), time.Unix(0, 0)); err != nil {
		t.Errorf("Record afterwards: %v", err)
	}
}

// A server may be set to let a transaction see the ledger as it was when it began: a writer that waited in
// line then checks its rows all the same against what was written meanwhile.
func TestAWriterThatWaitedSeesWhatWasWrittenBefore(t *testing.T) {
	url := with(t, NewPostgresLedger(t, pgtest.Shared(t)), "", "default_transaction_isolation", "serializable")
	release := holdTheLock(t, url)
	failed := make([]error, 4)
	var all, begun sync.WaitGroup
	for i := range failed {
		db := OpenAndClose(t, url)
		begun.Add(1)
		all.Go(func() {
			begun.Done()
			report := inventory.Report{Key: "one", Content: fmt.Sprint(i)}
			_, failed[i] = db.RecordReport(t.Context(), report, onePlant(fmt.Sprint(i)), time.Unix(0, 0))
		})
	}
	begun.Wait()
	release()
	all.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
		} else if !errors.Is(err, inventory.ErrKeyTaken) {
			t.Errorf("a writer failed otherwise than by what was written before: %v", err)
		}
	}
	if won != 1 {
		t.Errorf("%d writers won, want one", won)
	}
}

func TestWhoGivesUpIsToldSo(t *testing.T) {
	url := NewPostgresLedger(t, pgtest.Shared(t))
	db := OpenAndClose(t, url)
	release := holdTheLock(t, url)
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	_, err := db.Record(ctx, onePlant("p"), time.Unix(0, 0))
	if fault.KindOf(err) != fault.Unavailable || !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Record: %v, want a fault of kind unavailable caused by the deadline", err)
	}
	release()
	if rows, err := db.Directory(t.Context()); err != nil || rows.Len() != 0 {
		t.Errorf("Directory gives %d rows, %v: want none", rows.Len(), err)
	}
}

func TestPingTellsWhetherTheLedgerCanBeReached(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		if err := db.Ping(t.Context()); err != nil {
			t.Errorf("Ping: %v", err)
		}
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		if err := db.Ping(ctx); fault.KindOf(err) != fault.Unavailable {
			t.Errorf("Ping: %v, want a fault of kind unavailable", err)
		}
	})
}

func TestOneConnectionIsEnough(t *testing.T) {
	db := OpenAndClose(t, with(t, pgtest.New(t), "", "pool_max_conns", "1"))
	if _, err := db.Record(t.Context(), onePlant("p"), time.Unix(0, 0)); err != nil {
		t.Errorf("Record: %v", err)
	}
	if rows, err := db.Directory(t.Context()); err != nil || rows.Len() != 1 {
		t.Errorf("Directory gives %d rows, %v: want one", rows.Len(), err)
	}
}
