package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
)

// onEveryEngine runs a test with the URL of a new ledger of each engine.
func onEveryEngine(t *testing.T, test func(t *testing.T, url string)) {
	t.Run("SQLite", func(t *testing.T) { test(t, filepath.Join(t.TempDir(), "ledger.db")) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, pgtest.New(t)) })
}

// manyGaugings is a file of so many rows that they are written in several parts. Where instead has a row, that stands
// there in place of a sound one.
func manyGaugings(instead map[int]string) string {
	var text strings.Builder
	text.WriteString("plant,tank,at,depth_mm,temperature_c\n")
	first := time.Date(2019, time.January, 1, 0, 0, 0, 0, time.UTC)
	for i := range manyRows {
		row, other := instead[i]
		if !other {
			row = fmt.Sprintf("P1,A,%s,%d,-5", first.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), 1000+i%1000)
		}
		text.WriteString(row + "\n")
	}
	return text.String()
}

const manyRows = 12_000

// written opens a ledger and counts its rows and versions.
func written(t *testing.T, url string) string {
	t.Helper()
	db := opened(t, url)
	version, err := db.Version(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	rows, err := db.RowsWritten(t.Context(), 0, 2*manyRows)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%d rows in %d versions", len(rows), version)
}

func opened(t *testing.T, url string) *store.DB {
	t.Helper()
	db, done, err := openLedger(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(done)
	return db
}

func TestARefusedFolderLeavesNothingOnAnyEngine(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, url string) {
		folder := smallFolder(t)
		if code, _, errors := command("load", "--db", url, folder); code != fault.ExitDone {
			t.Fatalf("exit %d: %s", code, errors)
		}
		for _, tt := range []struct {
			name    string
			instead map[int]string
			code    int
			says    []string
		}{
			{"malformed rows at both ends", map[int]string{0: "P1,A,2026-03-02 08:00,12O5,-5", manyRows - 1: "P1,B,2026-03-02 08:00,1200,-5"},
				fault.ExitInvalid, []string{"gaugings.csv:2:depth_mm", "gaugings.csv:12001:tank", "2 problems"}},
			{"a known key with other content at the end", map[int]string{manyRows - 1: "P1,A,2026-03-01 08:00,1300,-5"},
				fault.ExitConflict, []string{"gaugings.csv:12001: gauging P1/A/2026-03-01T17:00:00Z: ", "other content", "nothing was written"}},
			{"a key at both ends with other content", map[int]string{manyRows - 1: "P1,A,2019-01-01T00:00:00Z,1300,-5"},
				fault.ExitInvalid, []string{"gaugings.csv:12001:key", "row 2"}},
		} {
			write(t, folder, "gaugings.csv", manyGaugings(tt.instead))
			code, _, errors := command("load", "--db", url, folder)
			if code != tt.code {
				t.Errorf("%s: exit %d, want %d: %s", tt.name, code, tt.code, errors)
			}
			for _, want := range tt.says {
				if !strings.Contains(errors, want) {
					t.Errorf("%s: the message lacks %q: %s", tt.name, want, errors)
				}
			}
			if got := written(t, url); got != "3 rows in 1 versions" {
				t.Errorf("%s: the ledger holds %s", tt.name, got)
			}
		}
		write(t, folder, "gaugings.csv", manyGaugings(nil))
		if code, out, errors := command("load", "--db", url, folder); code != fault.ExitDone || !strings.Contains(out, "12000 rows written, 2 known already") {
			t.Errorf("the sound folder: exit %d: %s%s", code, out, errors)
		}
		if got := written(t, url); got != "12003 rows in 2 versions" {
			t.Errorf("the ledger holds %s", got)
		}
	})
}

// changing is a folder of which one file is another when it is opened again.
type changing struct {
	fstest.MapFS
	file  string
	after []byte
}

func (c *changing) Open(name string) (fs.File, error) {
	file, err := c.MapFS.Open(name)
	if name == c.file {
		c.MapFS[name] = &fstest.MapFile{Data: c.after}
	}
	return file, err
}

func TestAFolderThatChangesWhileItIsLoadedLeavesNothing(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, url string) {
		db := opened(t, url)
		folder := &changing{MapFS: fstest.MapFS{"gaugings.csv": {Data: []byte(manyGaugings(nil))}},
			file: "gaugings.csv", after: []byte(manyGaugings(map[int]string{manyRows - 1: "P1,A,2026-03-01 08:00,1300,-5"}))}
		for _, name := range []string{"plants.csv", "tanks.csv"} {
			text, err := os.ReadFile(filepath.Join(smallFolder(t), name))
			if err != nil {
				t.Fatal(err)
			}
			folder.MapFS[name] = &fstest.MapFile{Data: text}
		}
		checked, err := importer.Check(folder, inventory.Rows{}, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		_, err = db.RecordStream(t.Context(), checked.Rows(), time.Now())
		if fault.KindOf(err) != fault.Unavailable || !strings.Contains(err.Error(), "gaugings.csv was changed") {
			t.Errorf("the load ends with %v", err)
		}
		if got := written(t, url); got != "0 rows in 0 versions" {
			t.Errorf("the ledger holds %s", got)
		}
	})
}
