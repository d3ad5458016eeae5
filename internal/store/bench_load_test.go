package store_test

import (
	"cmp"
	"database/sql"
	"flag"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

var loadRows = flag.Int("rows", 100_000, "the most meter readings that BenchmarkLoad writes")

// BenchmarkLoad loads a stream of readings through the checks and RecordStream, and puts beside it what the engine
// needs for the same rows in the same table at the least: COPY on PostgreSQL, one prepared insertion in one
// transaction on SQLite. ratio is the rows a second of the one against those of the other; peak-MB is the most that
// the heap held during the load beyond what it held before. A tenth, three tenths and all of the rows show whether
// that grows with them.
func BenchmarkLoad(b *testing.B) {
	b.Run("SQLite", func(b *testing.B) {
		benchLoads(b, func(b *testing.B) (*store.DB, func([][]any) time.Duration) {
			path := filepath.Join(b.TempDir(), "ledger.db")
			db := store.OpenAndClose(b, path)
			return db, func(rows [][]any) time.Duration { return insertLoop(b, path, rows) }
		})
	})
	b.Run("PostgreSQL", func(b *testing.B) {
		server := pgtest.Start(b)
		benchLoads(b, func(b *testing.B) (*store.DB, func([][]any) time.Duration) {
			url := store.NewPostgresLedger(b, server)
			return store.OpenAndClose(b, url), func(rows [][]any) time.Duration { return copyRows(b, url, rows) }
		})
	})
}

func benchLoads(b *testing.B, ledger func(*testing.B) (*store.DB, func([][]any) time.Duration)) {
	for _, tenths := range []int{1, 3, 10} {
		n := *loadRows / 10 * tenths
		b.Run(fmt.Sprintf("%d-rows", n), func(b *testing.B) {
			for b.Loop() {
				_, plain := ledger(b)
				least := plain(plainRows(n))
				db, _ := ledger(b)
				peak, stop := watchMemory()
				begun := time.Now()
				done, err := db.RecordStream(b.Context(), checkedReadings(n), noon)
				took := time.Since(begun)
				stop()
				if err != nil || done.New != n {
					b.Fatal(done, err)
				}
				b.ReportMetric(least.Seconds()/took.Seconds(), "ratio")
				b.ReportMetric(float64(n)/took.Seconds(), "rows/s")
				b.ReportMetric(float64(peak.Load())/1e6, "peak-MB")
			}
		})
	}
}

// checkedReadings gives the rows of readings one by one, each checked as an importer does.
func checkedReadings(n int) inventory.Stream {
	dir := inventory.NewDirectory(fleet())
	return func(yield func(inventory.Record, error) bool) {
		for i := range n {
			r := readingNumber(i)
			if found := r.Check(dir, noon); found != nil {
				yield(nil, fault.New(fault.Invalid, "%s", r.Key).With(found...))
				return
			}
			if !yield(r, nil) {
				return
			}
		}
	}
}

// fleet gives the plants and meters that readings are of.
func fleet() inventory.Rows {
	var rows inventory.Rows
	for n := range 100 {
		id := fmt.Sprintf("plant %d", n)
		rows.Add(&inventory.Plant{ID: id, Zone: "UTC"})
		rows.Add(&inventory.Meter{Plant: id, ID: "m"})
	}
	return rows
}

// watchMemory notes the most that the heap holds beyond what it holds now.
func watchMemory() (peak *atomic.Int64, stop func()) {
	held := func() int64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int64(m.HeapAlloc)
	}
	runtime.GC()
	before, done, ended := held(), make(chan struct{}), make(chan struct{})
	peak = new(atomic.Int64)
	look := func() { peak.Store(max(peak.Load(), held()-before)) }
	go func() {
		defer close(ended)
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
				look()
			}
		}
	}()
	return peak, func() { close(done); <-ended; look() }
}

var plainColumns = []string{"key", "replaces", "void", "who", "why", "plant", "meter", "at_ms", "register", "temperature_c", "digest", "recorded_ms", "position"}

// plainRows are the values of the readings, in order of their keys.
func plainRows(n int) [][]any {
	rows := readings(n).Readings
	slices.SortFunc(rows, func(a, b *inventory.MeterReading) int { return cmp.Compare(a.Key, b.Key) })
	all := make([][]any, n)
	for i, r := range rows {
		all[i] = []any{r.Key, nil, false, "", "", r.Plant, r.Meter, r.At.UnixMilli(), r.Register, nil, inventory.Digest(r), noon.UnixMilli(), int64(i + 1)}
	}
	return all
}

func copyRows(b *testing.B, url string, rows [][]any) time.Duration {
	conn, err := pgx.Connect(b.Context(), url)
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = conn.Close(b.Context()) }()
	begun := time.Now()
	if _, err := conn.CopyFrom(b.Context(), pgx.Identifier{"meter_readings"}, plainColumns, pgx.CopyFromRows(rows)); err != nil {
		b.Fatal(err)
	}
	return time.Since(begun)
}

func insertLoop(b *testing.B, path string, rows [][]any) time.Duration {
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)")
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	begun := time.Now()
	tx, err := db.Begin()
	if err != nil {
		b.Fatal(err)
	}
	insert, err := tx.Prepare(`INSERT INTO meter_readings (` + strings.Join(plainColumns, ", ") + `) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`)
	if err != nil {
		b.Fatal(err)
	}
	for _, row := range rows {
		if _, err := insert.Exec(row...); err != nil {
			b.Fatal(err)
		}
	}
	if err := tx.Commit(); err != nil {
		b.Fatal(err)
	}
	return time.Since(begun)
}
