package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// pastFleet writes an invented history of two plants and what is asked of them, and gives the folder.
func pastFleet(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	var history, intervals strings.Builder
	for _, plant := range []string{"P1", "P2"} {
		month := calendar.Month{Year: 2016, Month: 1}
		for i := range 48 {
			start, end := month.Plus(i).First(), month.Plus(i+1).First()
			if i < 36 {
				fmt.Fprintf(&history, "%s,%s,%s,%d\n", plant, start, end, 900*int(end-start)+100*(i%5))
			} else {
				fmt.Fprintf(&intervals, "%s,%s,%s,1\n", plant, start, end)
			}
		}
	}
	write(t, dir, "history.csv", "series_id,start,end,litres\n"+history.String())
	write(t, dir, "intervals.csv", "series_id,start,end,counted\n"+intervals.String())
	return dir
}

// backtested runs the command in a folder of pastFleet.
func backtested(dir string, more ...string) (code int, said string) {
	args := []string{"backtest", "--paths", "100", "--history", filepath.Join(dir, "history.csv"), "--intervals", filepath.Join(dir, "intervals.csv"), "--out", filepath.Join(dir, "out.csv")}
	code, out, errors := command(append(args, more...)...)
	return code, out + errors
}

// names lists a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}

func TestABacktestWritesQuantilesAndNotices(t *testing.T) {
	dir := pastFleet(t)
	write(t, dir, "degree.csv", "series_id,start,end,hdd\nP1,2016-01-01,2016-02-01,1200\n")
	write(t, dir, "plants.csv", "series_id,tankage_l,peak_kw,group\nP1,250000,310,coast\nP3,,,coast\n")
	code, said := backtested(dir, "--degree-days", filepath.Join(dir, "degree.csv"), "--plants", filepath.Join(dir, "plants.csv"))
	if code != fault.ExitDone || said != "" {
		t.Fatalf("exit %d: %s", code, said)
	}
	if got, want := names(t, dir), "degree.csv history.csv intervals.csv out-notices.csv out.csv plants.csv"; got != want {
		t.Errorf("the folder holds %s, want %s", got, want)
	}
	records, err := csv.NewReader(strings.NewReader(string(contents(t, filepath.Join(dir, "out.csv"))))).ReadAll()
	if err != nil || len(records) != 25 || len(records[0]) != 49 {
		t.Errorf("%d rows, %v; want a header and 24 of 49 columns", len(records), err)
	}
	notes := string(contents(t, filepath.Join(dir, "out-notices.csv")))
	if !strings.HasPrefix(notes, "series_id,severity,code,text,start,end\n") || !strings.Contains(notes, "\nP3,info,series-unmatched,") {
		t.Errorf("notices: %s", notes)
	}
}

func TestNoticesAreWrittenWhereTheyAreAskedFor(t *testing.T) {
	dir := pastFleet(t)
	if code, said := backtested(dir, "--notices", filepath.Join(dir, "said")); code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, said)
	}
	if got, want := names(t, dir), "history.csv intervals.csv out.csv said"; got != want {
		t.Errorf("the folder holds %s, want %s", got, want)
	}
	if notes := string(contents(t, filepath.Join(dir, "said"))); notes != "series_id,severity,code,text,start,end\n" {
		t.Errorf("a sound fleet has notices: %s", notes)
	}
}

func TestWrongTablesLeaveTheLastResultsAsTheyWere(t *testing.T) {
	dir := pastFleet(t)
	write(t, dir, "out.csv", "of last week\n")
	write(t, dir, "history.csv", "series_id,start,end,litres\nP1,2016-01-01,2016-02-01,many\nP1,2016-02-01,2016-02-01,1\n")
	code, said := backtested(dir)
	if code != fault.ExitInvalid || !strings.Contains(said, "history.csv:2:litres: \"many\" is no number") || !strings.Contains(said, "history.csv:3:end: ") {
		t.Errorf("exit %d: %s", code, said)
	}
	if got := string(contents(t, filepath.Join(dir, "out.csv"))); got != "of last week\n" || names(t, dir) != "history.csv intervals.csv out.csv" {
		t.Errorf("out.csv holds %q, the folder %s", got, names(t, dir))
	}
}

func TestAnInterruptedBacktestLeavesNothing(t *testing.T) {
	dir := pastFleet(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errors bytes.Buffer
	code := run(ctx, []string{"backtest", "--history", filepath.Join(dir, "history.csv"), "--intervals", filepath.Join(dir, "intervals.csv"), "--out", filepath.Join(dir, "out.csv")}, &out, &errors)
	if code != fault.ExitInternal || names(t, dir) != "history.csv intervals.csv" {
		t.Errorf("exit %d, the folder holds %s: %s", code, names(t, dir), errors.String())
	}
}

func TestDraftsThatAreNotKeptLeaveNothing(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "out.csv", "old")
	d, err := draft(filepath.Join(dir, "out.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.WriteString("half"); err != nil {
		t.Fatal(err)
	}
	if parts := names(t, dir); !strings.Contains(parts, ".part") {
		t.Errorf("nothing is being written: %s", parts)
	}
	d.discard()
	if got := string(contents(t, filepath.Join(dir, "out.csv"))); got != "old" || names(t, dir) != "out.csv" {
		t.Errorf("out.csv holds %q, the folder %s", got, names(t, dir))
	}
}

func TestSeriesThatCannotBeForecastAreToldByCodeAndText(t *testing.T) {
	dir := pastFleet(t)
	intervals := string(contents(t, filepath.Join(dir, "intervals.csv")))
	write(t, dir, "intervals.csv", intervals+"P9,2019-01-01,2019-02-01,1\n")
	code, said := backtested(dir)
	if code != fault.ExitDone || !strings.HasPrefix(said, "1 of 3 series cannot be forecast and have no rows: ") {
		t.Errorf("one of three: exit %d: %s", code, said)
	}
	write(t, dir, "intervals.csv", "series_id,start,end,counted\nP9,2019-01-01,2019-02-01,1\n")
	code, said = backtested(dir)
	if code != fault.ExitInvalid || !strings.Contains(said, "none of 1 series can be forecast: ") {
		t.Errorf("none: exit %d: %s", code, said)
	}
	if rows := string(contents(t, filepath.Join(dir, "out.csv"))); strings.Count(rows, "\n") != 1 {
		t.Errorf("rows from nothing: %s", rows)
	}
	if notes := string(contents(t, filepath.Join(dir, "out-notices.csv"))); !strings.Contains(notes, "\nP9,serious,no-forecast,") {
		t.Errorf("notices: %s", notes)
	}
}

func TestAWrongCommandLineIsRefusedBeforeAnythingIsRead(t *testing.T) {
	dir := pastFleet(t)
	link := filepath.Join(dir, "link.csv")
	if err := os.Symlink(filepath.Join(dir, "history.csv"), link); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		flags []string
		code  int
		says  string
	}{
		{[]string{"--out", link}, fault.ExitUsage, "--history and --out are both " + link},
		{[]string{"--notices", filepath.Join(dir, "out.csv")}, fault.ExitUsage, "--out and --notices are both"},
		{[]string{"--out", ""}, fault.ExitUsage, "--out is blank"},
		{[]string{"--paths", "99"}, fault.ExitUsage, "--paths 99: expected 100 to 10000"},
		{[]string{"--paths", "10001"}, fault.ExitUsage, "--paths 10001: expected 100 to 10000"},
		{[]string{"--plants", filepath.Join(dir, "none.csv")}, fault.ExitNotFound, "there is no file"},
		{[]string{"--out", filepath.Join(dir, "none", "out.csv")}, fault.ExitNotFound, "there is no folder for"},
		{[]string{"--out", dir}, fault.ExitInvalid, "is no plain file"},
		{[]string{"--out", os.DevNull}, fault.ExitInvalid, "is no plain file"},
		{[]string{"--history", dir}, fault.ExitInvalid, "cannot be read"},
	} {
		code, said := backtested(dir, tt.flags...)
		if code != tt.code || !strings.Contains(said, tt.says) {
			t.Errorf("%v: exit %d: %s, want %d and %q", tt.flags, code, said, tt.code, tt.says)
		}
		if got := names(t, dir); got != "history.csv intervals.csv link.csv" {
			t.Errorf("%v: the folder holds %s", tt.flags, got)
		}
	}
}
