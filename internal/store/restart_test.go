package store

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/pgtest"
)

// TestAServerThatCrashesLosesNothing lets writers and readers work while the server is stopped the hard
// way and started again. What was acknowledged is there, no batch is there in part, what fails says so in
// words for people, and the store goes on by itself.
func TestAServerThatCrashesLosesNothing(t *testing.T) {
	server := pgtest.Private(t)
	db := OpenAndClose(t, NewPostgresLedger(t, server))
	ctx, stop := context.WithCancel(t.Context())
	load := ingest{t: t, db: db}
	var all sync.WaitGroup
	for writer := range 4 {
		all.Go(func() { load.write(ctx, writer) })
	}
	all.Go(func() { load.read(ctx) })

	for range 2 {
		load.await(&load.acknowledged, 20)
		server.Crash(t)
		load.await(&load.failed, 8)
		server.Restart(t)
	}
	load.await(&load.acknowledged, 20)
	stop()
	all.Wait()
	load.check()
}

// ingest is a load of batches and what came of them.
type ingest struct {
	t  *testing.T
	db *DB

	acknowledged, failed atomic.Int64
	mu                   sync.Mutex
	written              []string // the batches that were acknowledged
}

const batchSize = 50

// sent is a batch of readings of one plant, large enough to take more than one message.
func sent(name string) inventory.Rows {
	var rows inventory.Rows
	for i := range batchSize {
		rows.Add(&inventory.MeterReading{
			Entry: inventory.Entry{Key: fmt.Sprintf("%s %02d", name, i), Why: strings.Repeat("why ", 100)},
			Plant: "p", Meter: "m", At: time.UnixMilli(int64(i)),
		})
	}
	return rows
}

func (l *ingest) write(ctx context.Context, writer int) {
	for n := 0; ctx.Err() == nil; n++ {
		name := fmt.Sprintf("%d %05d", writer, n)
		_, err := l.db.Record(ctx, sent(name), time.Unix(0, 0))
		if err != nil {
			l.judge(ctx, err)
			continue
		}
		l.acknowledged.Add(1)
		l.mu.Lock()
		l.written = append(l.written, name)
		l.mu.Unlock()
	}
}

func (l *ingest) read(ctx context.Context) {
	for ctx.Err() == nil {
		rows, err := l.db.PlantRows(ctx, "p", time.Unix(1, 0))
		if err != nil {
			l.judge(ctx, err)
		} else if rows.Len()%batchSize != 0 {
			l.t.Errorf("%d rows are read, want whole batches of %d", rows.Len(), batchSize)
		}
	}
}

// judge counts a failure that is as it should be.
func (l *ingest) judge(ctx context.Context, err error) {
	if ctx.Err() != nil {
		return
	}
	l.failed.Add(1)
	if fault.KindOf(err) != fault.Unavailable || !strings.HasPrefix(err.Error(), "the ledger cannot be reached now") {
		l.t.Errorf("a failure of kind %v: %v", fault.KindOf(err), err)
	}
}

// await waits until a count has risen by n.
func (l *ingest) await(count *atomic.Int64, n int64) {
	l.t.Helper()
	for until := count.Load() + n; count.Load() < until; time.Sleep(time.Millisecond) {
		if l.t.Context().Err() != nil {
			l.t.Fatal("the load did not go on")
		}
	}
}

// check looks for each batch as a whole.
func (l *ingest) check() {
	l.t.Helper()
	rows, err := l.db.PlantRows(l.t.Context(), "p", time.Unix(1, 0))
	if err != nil {
		l.t.Fatalf("PlantRows: %v", err)
	}
	there := map[string]int{}
	for _, r := range rows.Readings {
		there[r.Key[:len(r.Key)-len(" 00")]]++
	}
	for name, n := range there {
		if n != batchSize {
			l.t.Errorf("of the batch %s %d rows are there, want %d", name, n, batchSize)
		}
	}
	for _, name := range l.written {
		if there[name] == 0 {
			l.t.Errorf("the batch %s was acknowledged and is not there", name)
		}
	}
	l.t.Logf("%d batches acknowledged, %d there, %d calls failed", len(l.written), len(there), l.failed.Load())
}

// After a restart that nobody noticed, the first call finds only dead connections and does not fail.
func TestTheFirstCallAfterARestartSucceeds(t *testing.T) {
	server := pgtest.Private(t)
	db := OpenAndClose(t, NewPostgresLedger(t, server))
	restart := func() {
		server.Crash(t)
		server.Restart(t)
	}
	calls := []struct {
		name string
		call func() error
	}{
		{"Record", func() error { _, err := db.Record(t.Context(), onePlant("p"), time.Unix(0, 0)); return err }},
		{"AdviceRevision", func() error { _, err := db.AdviceRevision(t.Context(), 1); return err }},
	}
	for _, c := range calls {
		var all sync.WaitGroup
		for range 8 { // several connections lie idle
			all.Go(func() { _, _ = db.Directory(t.Context()) })
		}
		all.Wait()
		restart()
		if err := c.call(); err != nil {
			t.Errorf("%s, the first call after the restart: %v", c.name, err)
		}
	}
	server.Crash(t)
	if err := db.Ping(t.Context()); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("Ping: %v, want a fault of kind unavailable", err)
	}
	server.Restart(t)
	if err := db.Ping(t.Context()); err != nil {
		t.Errorf("Ping after the restart: %v", err)
	}
}
