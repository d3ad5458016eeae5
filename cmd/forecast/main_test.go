package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/demo"
	"overwinter/internal/fault"
)

// killedChild, when set, makes the test binary the command itself, so that a test can kill it.
const killedChild = "OVERWINTER_TEST_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(killedChild) != "" {
		os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// command runs the command in process.
func command(args ...string) (code int, out, errors string) {
	var stdout, stderr bytes.Buffer
	code = run(context.Background(), args, &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// demoFolder writes the demo's data folder.
func demoFolder(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "folder")
	if err := demo.Generate(demo.DefaultSeed).WriteFolder(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestTheDemoAnswersForEveryPlant(t *testing.T) {
	code, out, errors := command("advise", "--demo")
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	for _, p := range demo.Generate(demo.DefaultSeed).Rows.Plants {
		if !strings.Contains(out, "\n"+p.Name+" ") {
			t.Errorf("%s is not in the table", p.Name)
		}
	}
	for _, want := range []string{"As of the close of 2 Mar 2026", "order by", "reserve reached", "below the reserve", "A planning aid, not a gauge"} {
		if !strings.Contains(out, want) {
			t.Errorf("the answer lacks %q", want)
		}
	}
}

// The demo's own folder, loaded as a utility would load it, gives the demo's answer.
func TestALoadedFolderGivesTheSameAdviceAsTheDemo(t *testing.T) {
	unraced(t)
	db, folder := filepath.Join(t.TempDir(), "my ledger.db"), demoFolder(t)
	if code, out, errors := command("load", "--db", db, folder); code != fault.ExitDone || !strings.Contains(out, " 0 known already") {
		t.Fatalf("exit %d: %s%s", code, out, errors)
	}
	if code, out, _ := command("load", "--db", db, folder); code != fault.ExitDone || !strings.Contains(out, "\n0 rows written") {
		t.Errorf("a second load: exit %d, %s", code, out[max(0, len(out)-200):])
	}
	code, loaded, errors := command("advise", "--json", "--db", db, "--as-of", "2026-03-02")
	if code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, errors)
	}
	_, shown, _ := command("advise", "--json", "--demo")
	if loaded != shown {
		t.Error("the loaded folder gives other advice than the demo")
	}
	var fleet advice.Fleet
	if err := json.Unmarshal([]byte(loaded), &fleet); err != nil || len(fleet.Plants) == 0 {
		t.Errorf("the answer is no JSON: %v", err)
	}
}

func TestTheBudgetShowsEighteenMonthsOfEveryPlant(t *testing.T) {
	unraced(t)
	code, out, errors := command("budget", "--demo", "--price", "1.25", "--currency", "cad")
	if code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, errors)
	}
	plants := len(demo.Generate(demo.DefaultSeed).Rows.Plants)
	if got := strings.Count(out, "2026-04"); got != plants+1 { // and the fleet
		t.Errorf("April 2026 stands %d times, want %d", got, plants+1)
	}
	if got := strings.Count(out, "2027-09"); got != plants+1 || strings.Contains(out, "2027-10") {
		t.Errorf("September 2027, the eighteenth month, stands %d times", got)
	}
	if !strings.Contains(out, "CAD 1.25 a litre") {
		t.Error("the price is not stated")
	}
}

func TestEveryFailureHasItsExitCode(t *testing.T) {
	empty, db := t.TempDir(), filepath.Join(t.TempDir(), "ledger.db")
	tests := []struct {
		args []string
		want int
		says string
	}{
		{[]string{"advise", "--nonsense"}, fault.ExitUsage, "--nonsense"},
		{[]string{}, fault.ExitUsage, "load"},
		{[]string{"advise", "--db", db}, fault.ExitNotFound, "load a data folder first"},
		{[]string{"load", "--db", db, filepath.Join(empty, "nowhere")}, fault.ExitNotFound, "there is no folder"},
		{[]string{"load", "--db", db, empty}, fault.ExitInvalid, "plants.csv"},
		{[]string{"advise", "--demo", "--as-of", "2.3.2026"}, fault.ExitUsage, `--as-of: "2.3.2026" is no date: expected YYYY-MM-DD`},
		{[]string{"advise", "--db", "mysql://somewhere/else"}, fault.ExitInvalid, "not supported"},
		{[]string{"advise", "--db", "postgres://127.0.0.1:1/else"}, fault.ExitUnavailable, "no PostgreSQL server answers"},
		{[]string{"advise", "--demo", "--explain", "atlantis"}, fault.ExitNotFound, `no plant "atlantis"`},
		{[]string{"budget", "--demo", "--price=-1"}, fault.ExitInvalid, "no price"},
		{[]string{"budget", "--demo", "--currency=dollars"}, fault.ExitInvalid, "no currency"},
		{[]string{"--help"}, fault.ExitDone, ""},
	}
	for _, tt := range tests {
		code, out, errors := command(tt.args...)
		if code != tt.want || !strings.Contains(errors, tt.says) {
			t.Errorf("%v: exit %d, want %d; said %q %q", tt.args, code, tt.want, out, errors)
		}
	}
}

// unraced leaves a test of the whole demo to the run without the race detector.
func unraced(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("the whole demo is tried without the race detector")
	}
}
