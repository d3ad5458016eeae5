package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"overwinter/internal/fault"
)

// smallFolder writes one plant with one lying tank of 2 400 mm.
func smallFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "plants.csv", "plant,name,zone,product\nP1,Cold Point,America/Anchorage,diesel-1-s15\n")
	write(t, dir, "tanks.csv", "plant,tank,role,shape,diameter_mm,length_mm\nP1,A,storage,horizontal,2400,6000\n")
	write(t, dir, "gaugings.csv", "plant,tank,at,depth_mm,temperature_c\nP1,A,2026-03-01 08:00,1200,-5\n")
	return dir
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// ledgerOf loads a folder into a new ledger and gives its path.
func ledgerOf(t *testing.T, folder string) string {
	t.Helper()
	db := filepath.Join(t.TempDir(), "ledger.db")
	if code, _, errors := command("load", "--db", db, folder); code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, errors)
	}
	return db
}

func TestARowThatIsKnownButNotInForceIsTold(t *testing.T) {
	const header, wrong = "plant,tank,at,depth_mm,temperature_c,key,replaces,void\n", "P1,A,2026-03-01 08:00,1200,-5,dip,,\n"
	folder := smallFolder(t)
	write(t, folder, "gaugings.csv", header+wrong)
	db := ledgerOf(t, folder)
	load := func(rows string) string {
		t.Helper()
		write(t, folder, "gaugings.csv", header+rows)
		code, out, errors := command("load", "--db", db, folder)
		if code != fault.ExitDone || errors != "" {
			t.Fatalf("exit %d: %s", code, errors)
		}
		return out
	}
	const corrected, told = "P1,A,2026-03-01 08:00,1100,-5,right,dip,\n", "caution: gauging dip: known already, but not in force: it was replaced by right."
	if out := load(wrong + corrected); strings.Contains(out, "not in force") {
		t.Errorf("a row beside its correction: %s", out)
	}
	if out := load(wrong); !strings.Contains(out, "0 rows written, 3 known already\n"+told) {
		t.Errorf("the row alone: %s", out)
	}
	load("P1,A,2026-03-01 08:00,,,gone,right,yes\n")
	if out := load(corrected); !strings.Contains(out, "caution: gauging right: known already, but not in force: it was withdrawn by gone. To bring it back, send it under a key of its own\n") {
		t.Errorf("a withdrawn row: %s", out)
	}
}

func TestBadInputIsRefusedWholeAndNamed(t *testing.T) {
	const gaugings = "plant,tank,at,depth_mm,temperature_c\n"
	tests := []struct {
		name, file, text string
		code             int
		says             []string
	}{
		{"a wrong header", "gaugings.csv", "plant,tank,at,dpeth_mm\nP1,A,2026-03-02 08:00,1200\n", fault.ExitInvalid,
			[]string{"gaugings.csv:1:dpeth_mm", "depth_"}},
		{"a letter in a number", "gaugings.csv", gaugings + "P1,A,2026-03-02 08:00,12O5,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:2:depth_mm", "12O5", "number"}},
		{"a depth above the tank", "gaugings.csv", gaugings + "P1,A,2026-03-02 08:00,2450,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:2:depth_mm", "2 450 mm", "2 400 mm"}},
		{"a date in the future", "gaugings.csv", gaugings + "P1,A,2126-03-02 08:00,1200,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:2:at", "2126-03-02", "future"}},
		{"a key twice with other content", "gaugings.csv", gaugings + "P1,A,2026-03-02 08:00,1200,-5\nP1,A,2026-03-02 08:00,1300,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:3:", "row 2"}},
		{"a key of the ledger with other content", "gaugings.csv", gaugings + "P1,A,2026-03-01 08:00,1300,-5\n", fault.ExitConflict,
			[]string{"nothing was written", "other content"}},
		{"a file that is not UTF-8", "gaugings.csv", gaugings + "P1,\xc4,2026-03-02 08:00,1200,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:2", "UTF-8"}},
		{"one bad row among good ones", "gaugings.csv", gaugings + "P1,A,2026-03-02 08:00,1190,-5\nP1,B,2026-03-02 08:00,1200,-5\n", fault.ExitInvalid,
			[]string{"gaugings.csv:3:tank", "B"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			folder := smallFolder(t)
			db := ledgerOf(t, folder)
			before := contents(t, db)
			write(t, folder, tt.file, tt.text)
			for _, args := range [][]string{{"load", "--dry-run", "--db", db, folder}, {"load", "--db", db, folder}} {
				code, _, errors := command(args...)
				if code != tt.code {
					t.Errorf("%v: exit %d, want %d: %s", args[:2], code, tt.code, errors)
				}
				for _, want := range tt.says {
					if !strings.Contains(errors, want) {
						t.Errorf("%v: the message lacks %q: %s", args[:2], want, errors)
					}
				}
			}
			if !bytes.Equal(before, contents(t, db)) {
				t.Error("the ledger is not as it was")
			}
		})
	}
}

// contents gives the ledger's file; its write-ahead log is empty once the command has closed it.
func contents(t *testing.T, db string) []byte {
	t.Helper()
	text, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A load of many rows is killed at several moments; whenever it is, nothing is half-loaded: the folder
// is there whole or not at all, and the next load brings the rest.
func TestAKilledLoadLeavesNothingHalfLoaded(t *testing.T) {
	folder := smallFolder(t)
	const rows = 20_000
	var text strings.Builder
	text.WriteString("plant,tank,at,depth_mm,temperature_c\n")
	first := time.Date(2019, time.January, 1, 0, 0, 0, 0, time.UTC)
	for i := range rows {
		fmt.Fprintf(&text, "P1,A,%s,%d,-5\n", first.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), 1000+i%1000)
	}
	write(t, folder, "gaugings.csv", text.String())
	for _, written := range []int64{0, 1 << 14, 1 << 20} {
		db := filepath.Join(t.TempDir(), "ledger.db")
		child := exec.Command(os.Args[0], "load", "--db", db, folder)
		child.Env = append(os.Environ(), killedChild+"=1")
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- child.Wait() }()
		waitForBytes(db+"-wal", written, ended)
		_ = child.Process.Kill() // it may have ended by itself
		<-ended
		code, out, errors := command("load", "--db", db, folder)
		whole, none := fmt.Sprintf("%d rows written, 0 known", rows+2), fmt.Sprintf("0 rows written, %d known", rows+2)
		if code != fault.ExitDone || !(strings.Contains(out, whole) || strings.Contains(out, none)) {
			t.Errorf("killed with %d bytes written ahead, the next load: exit %d, %s%s", written, code, out, errors)
		}
	}
}

// waitForBytes returns once a file holds more than so many bytes, or the process that writes it has ended.
func waitForBytes(path string, written int64, ended chan error) {
	for {
		if info, err := os.Stat(path); err == nil && info.Size() > written {
			return
		}
		select {
		case err := <-ended:
			ended <- err
			return
		case <-time.After(time.Millisecond):
		}
	}
}
