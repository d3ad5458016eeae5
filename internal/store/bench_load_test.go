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

	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

var loadRows = flag.Int("rows", 100_000, "meter readings that BenchmarkLoad writes")

// BenchmarkLoad loads readings through the checks and Record, and puts beside it what the engine needs for the
// same rows in the same table at the least: COPY on PostgreSQL, one prepared insertion in one transaction on SQLite.
// ratio is the rows a second of the one against those of the other.
func BenchmarkLoad(b *testing.B) {
	b.Run("SQLite", func(b *testing.B) {
		benchLoad(b, func() (*store.DB, func([][]any) time.Duration) {
			path := filepath.Join(b.TempDir(), "ledger.db")
			db := store.OpenAndClose(b, path)
			return db, func(rows [][]any) time.Duration { return insertLoop(b, path, rows) }
		})
	})
	b.Run("PostgreSQL", func(b *testing.B) {
		server := pgtest.Start(b)
		benchLoad(b, func() (*store.DB, func([][]any) time.Duration) {
			url := store.NewPostgresLedger(b, server)
			return store.OpenAndClose(b, url), func(rows [][]any) time.Duration { return copyRows(b, url, rows) }
		})
	})
}

func benchLoad(b *testing.B, ledger func() (*store.DB, func([][]any) time.Duration)) {
	dir := inventory.NewDirectory(fleet())
	for b.Loop() {
		_, plain := ledger()
		least := plain(plainRows(*loadRows))
		db, _ := ledger()
		rows := readings(*loadRows)
		peak, stop := watchMemory()
		begun := time.Now()
		for _, r := range rows.Readings {
			if found := r.Check(dir, noon); found != nil {
				b.Fatal(found)
			}
		}
		mustRecord(b, db, rows)
		took := time.Since(begun)
		stop()
		b.ReportMetric(least.Seconds()/took.Seconds(), "ratio")
		b.ReportMetric(float64(*loadRows)/took.Seconds(), "rows/s")
		b.ReportMetric(float64(peak.Load())/float64(*loadRows), "B/row")
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
