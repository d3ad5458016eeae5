package store_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

const (
	writerURL        = "STORE_TEST_WRITER_URL"
	writerName       = "STORE_TEST_WRITER_NAME"
	killsVariable    = "OVERWINTER_TEST_KILLS" // how many times the processes are killed
	usualKills       = 3
	killedBatch      = 30 // readings a batch; each fifth batch brings a tank besides
	killedTankPoints = 20
)

func kills(t *testing.T) int {
	given := os.Getenv(killsVariable)
	if given == "" {
		return usualKills
	}
	n, err := strconv.Atoi(given)
	if err != nil {
		t.Fatalf("%s is %q: expected a number", killsVariable, given)
	}
	return n
}

// writeForever writes batches and says which were acknowledged, until it is killed. While the ledger is away
// it sends the same batch again.
func writeForever(url, name string) {
	ctx := context.Background()
	db, err := store.Open(ctx, url)
	if err != nil {
		fmt.Println("failed", err)
		return
	}
	for writer := range 2 {
		go func() {
			for n := 0; ; n++ {
				batch := fmt.Sprintf("%s-%d-%d", name, writer, n)
				report := inventory.Report{Key: batch, Content: batch}
				_, err := db.RecordReport(ctx, report, killedRows(batch, n), noon)
				for fault.KindOf(err) == fault.Unavailable {
					_, err = db.RecordReport(ctx, report, killedRows(batch, n), noon)
				}
				if err != nil {
					fmt.Println("failed", err)
					return
				}
				fmt.Println("acknowledged", batch)
			}
		}()
	}
	select {}
}

func killedRows(batch string, n int) inventory.Rows {
	var rows inventory.Rows
	for i := range killedBatch {
		rows.Add(&inventory.MeterReading{Entry: inventory.Entry{Key: fmt.Sprintf("%s/%d", batch, i), Why: strings.Repeat("why ", 50)},
			Plant: "p", Meter: "m", At: noon, Register: float64(i)})
	}
	if n%5 == 0 {
		tank := &inventory.Tank{Entry: inventory.Entry{Key: batch + "/tank"}, Plant: "p", ID: batch}
		for i := range killedTankPoints {
			tank.Table = append(tank.Table, tanks.Point{Depth: units.Millimetres(i), Volume: units.Litres(i)})
		}
		rows.Add(tank)
	}
	return rows
}

// writing is a process that writes, and what it said.
type writing struct {
	process *exec.Cmd
	ended   chan struct{}
	mu      sync.Mutex
	said    []string // batches that were acknowledged
	failed  string
}

func startWriting(t *testing.T, url string, generation int) *writing {
	t.Helper()
	w := &writing{process: exec.Command(os.Args[0]), ended: make(chan struct{})}
	w.process.Env = append(os.Environ(), writerURL+"="+url, writerName+"="+strconv.Itoa(generation))
	out, err := w.process.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.process.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(w.kill)
	go func() {
		defer close(w.ended)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			w.mu.Lock()
			if batch, ok := strings.CutPrefix(lines.Text(), "acknowledged "); ok {
				w.said = append(w.said, batch)
			} else {
				w.failed = lines.Text()
			}
			w.mu.Unlock()
		}
	}()
	return w
}

// kill ends the process and waits until all that it said is heard.
func (w *writing) kill() {
	_ = w.process.Process.Kill() // it may be dead already
	<-w.ended
	_ = w.process.Wait()
}

func (w *writing) heard(t *testing.T) []string {
	t.Helper()
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.failed != "" {
		t.Fatalf("the writer %s", w.failed)
	}
	return append([]string(nil), w.said...)
}

// atARandomMoment returns while the writer is at work: some batches and a moment later.
func (w *writing) atARandomMoment(t *testing.T) {
	t.Helper()
	until := len(w.heard(t)) + 1 + rand.IntN(6)
	for deadline := time.Now().Add(time.Minute); len(w.heard(t)) < until; time.Sleep(time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("the writer does not go on")
		}
	}
	time.Sleep(time.Duration(rand.IntN(15_000)) * time.Microsecond)
}

// audit holds the ledger against what was acknowledged.
type audit struct {
	end   int64          // the last position that was seen
	there map[string]int // rows of each batch
	tanks map[string]bool
}

// check reads what is new. Every batch must be whole, every acknowledged one there, no position missing.
func (a *audit) check(t *testing.T, db *store.DB, acknowledged []string) {
	t.Helper()
	const limit = 1000
	for more := true; more; {
		page, err := db.RowsWritten(t.Context(), a.end, limit)
		if err != nil {
			t.Fatalf("RowsWritten: %v", err)
		}
		for _, r := range page {
			if a.end++; r.Position != a.end {
				t.Fatalf("the position %d is not there", a.end)
			}
			batch, _, _ := strings.Cut(r.Key, "/")
			if r.Kind == inventory.KindTank {
				a.tanks[batch] = true
			} else {
				a.there[batch]++
			}
		}
		more = len(page) == limit
	}
	for batch, n := range a.there {
		if n != killedBatch {
			t.Fatalf("of the batch %s %d readings are there, want %d", batch, n, killedBatch)
		}
		if fifth := strings.HasSuffix(batch, "0") || strings.HasSuffix(batch, "5"); fifth != a.tanks[batch] {
			t.Fatalf("the batch %s and its tank are not there together", batch)
		}
	}
	for _, batch := range acknowledged {
		if a.there[batch] == 0 {
			t.Fatalf("the batch %s was acknowledged and is not there", batch)
		}
	}
}

// finish looks at the rows in force.
func (a *audit) finish(t *testing.T, db *store.DB) {
	t.Helper()
	rows, err := db.PlantRows(t.Context(), "p", noon.Add(time.Hour))
	if err != nil || len(rows.Readings) != len(a.there)*killedBatch {
		t.Errorf("%d readings are in force, %v: want %d", len(rows.Readings), err, len(a.there)*killedBatch)
	}
	directory, err := db.Directory(t.Context())
	if err != nil || len(directory.Tanks) != len(a.tanks) {
		t.Errorf("%d tanks are in force, %v: want %d", len(directory.Tanks), err, len(a.tanks))
	}
	for _, tank := range directory.Tanks {
		if len(tank.Table) != killedTankPoints {
			t.Errorf("the tank %s has %d points, want %d", tank.ID, len(tank.Table), killedTankPoints)
		}
	}
	for batch := range a.there {
		known, err := db.Reported(t.Context(), inventory.Report{Key: batch, Content: batch})
		if err != nil || !known {
			t.Errorf("the rows of the report %s are there, the report is not: %v", batch, err)
		}
	}
}

func TestKillingTheWriterLosesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger.db")
	db := store.OpenAndClose(t, path)
	seen := audit{there: map[string]int{}, tanks: map[string]bool{}}
	acknowledged := 0
	for n := range kills(t) {
		w := startWriting(t, path, n)
		w.atARandomMoment(t)
		w.kill()
		heard := w.heard(t)
		acknowledged += len(heard)
		seen.check(t, db, heard)
	}
	seen.finish(t, db)
	t.Logf("%d kills, %d batches acknowledged, %d there", kills(t), acknowledged, len(seen.there))
}

// TestKillingThePostgresServerOrItsWriterLosesNothing kills every process of the server, or the one that
// writes, by chance.
func TestKillingThePostgresServerOrItsWriterLosesNothing(t *testing.T) {
	server := pgtest.Start(t)
	url := store.NewPostgresLedger(t, server)
	db := store.OpenAndClose(t, url)
	seen := audit{there: map[string]int{}, tanks: map[string]bool{}}
	w := startWriting(t, url, 0)
	servers, acknowledged := 0, 0
	for n := range kills(t) {
		w.atARandomMoment(t)
		if n == 0 || rand.IntN(4) > 0 {
			server.Kill(t)
			heard := w.heard(t)
			server.Revive(t)
			servers++
			seen.check(t, db, heard)
			continue
		}
		w.kill()
		heard := w.heard(t)
		acknowledged += len(heard)
		seen.check(t, db, heard)
		w = startWriting(t, url, n+1)
	}
	w.kill()
	heard := w.heard(t)
	// What the writer had sent when it was killed may still be on its way in: who writes now comes after it.
	if _, err := db.RecordReport(t.Context(), inventory.Report{Key: "end-0-1", Content: "end-0-1"}, killedRows("end-0-1", 1), noon); err != nil {
		t.Fatal(err)
	}
	seen.check(t, db, heard)
	seen.finish(t, db)
	t.Logf("%d kills, %d of them of the server; %d batches acknowledged, %d there", kills(t), servers, acknowledged+len(heard), len(seen.there))
}
