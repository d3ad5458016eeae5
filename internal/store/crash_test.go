package store_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

const loaderPath = "STORE_TEST_LOADER_PATH"

// TestMain lets the test binary serve as the process that is killed.
func TestMain(m *testing.M) {
	if path := os.Getenv(loaderPath); path != "" {
		loadForever(path)
	}
	if url := os.Getenv(writerURL); url != "" {
		writeForever(url, os.Getenv(writerName))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// loadForever loads readings without end and says how many it has given, so that it only ends when it is killed.
func loadForever(url string) {
	ctx := context.Background()
	db, err := store.Open(ctx, url)
	if err == nil {
		_, err = db.RecordStream(ctx, func(yield func(inventory.Record, error) bool) {
			for i := 0; yield(readingNumber(i), nil); i++ {
				if i%loaderTells == 0 {
					fmt.Println("given", i)
				}
			}
		}, noon)
	}
	fmt.Println("the load ended:", err)
	select {}
}

const loaderTells = 10_000

func readings(n int) inventory.Rows {
	rows := inventory.Rows{Readings: make([]*inventory.MeterReading, n)}
	for i := range n {
		rows.Readings[i] = readingNumber(i)
	}
	return rows
}

// readingNumber gives one of endless hourly readings of 100 plants, the newest first.
func readingNumber(i int) *inventory.MeterReading {
	plant, at := fmt.Sprintf("plant %d", i%100), noon.Add(-time.Duration(i/100)*time.Hour)
	return &inventory.MeterReading{
		Entry: inventory.Entry{Key: plant + " m " + at.Format(time.RFC3339)},
		Plant: plant, Meter: "m", At: at, Register: float64(i) / 7,
	}
}

func TestAKilledLoadLeavesNothing(t *testing.T) {
	t.Run("SQLite", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "ledger.db")
		killALoad(t, path, func() {
			if written(path) == 0 {
				t.Error("nothing of the open transaction has reached the disk: the load was killed too early to tell")
			}
		})
	})
	t.Run("PostgreSQL", func(t *testing.T) {
		killALoad(t, store.NewPostgresLedger(t, pgtest.Shared(t)), func() {})
	})
}

func killALoad(t *testing.T, url string, inTheMiddle func()) {
	db := store.OpenAndClose(t, url) // so that the loader has tables to begin with at once
	loader := exec.Command(os.Args[0])
	loader.Env = append(os.Environ(), loaderPath+"="+url)
	var said safeBuffer
	loader.Stdout = &said
	if err := loader.Start(); err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(time.Minute); strings.Count(said.String(), "given") < 5; time.Sleep(time.Millisecond) {
		if text := said.String(); strings.Contains(text, "ended") || time.Now().After(deadline) {
			_ = loader.Process.Kill()
			t.Fatalf("the loader could not be caught in the middle: %s", text)
		}
	}
	inTheMiddle()
	if err := loader.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = loader.Wait() // killed

	rows, err := db.PlantRows(t.Context(), "plant 0", noon.Add(time.Hour))
	if err != nil || rows.Len() != 0 {
		t.Errorf("after the kill there are %d rows, %v: want none", rows.Len(), err)
	}
	again := readings(4_000)
	done, err := db.Record(t.Context(), again, noon)
	if err != nil || done.New != again.Len() {
		t.Errorf("the next load gives %+v, %v: want all rows new", done, err)
	}
	if written, err := db.RowsWritten(t.Context(), 0, 1); err != nil || len(written) != 1 || written[0].Position != 1 {
		t.Errorf("the first row has the place %+v, %v: want 1", written, err)
	}
}

// written is the size of the ledger's write-ahead log.
func written(path string) int64 {
	info, err := os.Stat(path + "-wal")
	if err != nil {
		return 0
	}
	return info.Size()
}

// safeBuffer may be read while a process writes to it.
type safeBuffer struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.Write(p)
}

func (b *safeBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.String()
}
