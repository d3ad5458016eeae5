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

// loadForever loads readings and then waits, so that it only ends when it is killed.
func loadForever(path string) {
	ctx := context.Background()
	db, err := store.Open(ctx, path)
	if err == nil {
		_, err = db.Record(ctx, longReadings(), noon)
	}
	fmt.Println("the load ended:", err)
	select {}
}

// longReadings are few rows that nonetheless do not fit in memory, so that they reach the disk before
// they are committed.
func longReadings() inventory.Rows {
	rows := readings(4_000)
	for _, r := range rows.Readings {
		r.Why = strings.Repeat("why ", 1_000)
	}
	return rows
}

func readings(n int) inventory.Rows {
	rows := inventory.Rows{Readings: make([]*inventory.MeterReading, n)}
	for i := range n {
		plant, at := fmt.Sprintf("plant %d", i%100), noon.Add(-time.Duration(i/100)*time.Hour)
		rows.Readings[i] = &inventory.MeterReading{
			Entry: inventory.Entry{Key: plant + " m " + at.Format(time.RFC3339)},
			Plant: plant, Meter: "m", At: at, Register: float64(i) / 7,
		}
	}
	return rows
}

func TestAKilledLoadLeavesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger.db")
	db := store.OpenAndClose(t, path) // so that the loader has tables to begin with at once
	loader := exec.Command(os.Args[0])
	loader.Env = append(os.Environ(), loaderPath+"="+path)
	var said safeBuffer
	loader.Stdout = &said
	if err := loader.Start(); err != nil {
		t.Fatal(err)
	}
	begun := written(path)
	for written(path) < begun+1<<18 { // pages of the open transaction have reached the disk
		if text := said.String(); text != "" {
			t.Fatalf("the loader could not be caught in the middle: %s", text)
		}
		time.Sleep(time.Millisecond)
	}
	if err := loader.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = loader.Wait() // killed
	if text := said.String(); text != "" {
		t.Fatalf("the loader was killed too late: %s", text)
	}

	rows, err := db.PlantRows(t.Context(), "plant 0", noon.Add(time.Hour))
	if err != nil || rows.Len() != 0 {
		t.Errorf("after the kill there are %d rows, %v: want none", rows.Len(), err)
	}
	again := readings(4_000)
	done, err := db.Record(t.Context(), again, noon)
	if err != nil || done.New != again.Len() {
		t.Errorf("the next load gives %+v, %v: want all rows new", done, err)
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
