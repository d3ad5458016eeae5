package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// pastSupply writes the invented files of two plants on one river, and gives the folder.
func pastSupply(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	var history, past strings.Builder
	for _, plant := range []string{"P1", "P2"} {
		for m := (calendar.Month{Year: 2016, Month: 1}); m.First() < calendar.Date(2021, 1, 1); m = m.Next() {
			winter := 1 + 0.2*math.Cos(2*math.Pi*float64(m.First().YearDay())/365)
			fmt.Fprintf(&history, "%s,%s,%s,%.0f\n", plant, m.First(), m.Next().First(), 900*winter*float64(m.Next().First()-m.First()))
		}
	}
	for year := 1990; year < 2010; year++ {
		fmt.Fprintf(&past, "river,%d,%d-05-%02d,%d-10-%02d\n", year, year, 10+year*7%15, year, 5+year*5%20)
	}
	write(t, dir, "history.csv", "series_id,start,end,litres\n"+history.String())
	write(t, dir, "plants.csv", "series_id,usable_l,route\nP1,300000,river\nP2,420000,river\n")
	write(t, dir, "past.csv", "route,year,opens,closes\n"+past.String())
	write(t, dir, "scenario.json", `{"currency":"CAD","start":"2020-05-01","end":"2020-09-30","seed":1,"opening_share":0.4,"reserve_days":30,"risk_target":0.05,"carrying_per_year":0.05,
		"window":{"deliveries":2,"days_apart":45,"opens_lag_days":14,"closes_lag_days":-7,"fail_chance":0.04},
		"delivery":{"lead_days":44,"lead_sd_days":10,"stop_cost":8000,"price_per_l":1.05,"min_l":20000,"step_l":1000,"max_l":2000000},
		"fallback":{"lead_days":4,"lead_sd_days":1,"price_per_l":2.9,"load_l":17000,"at_days":10}}`)
	return dir
}

// replayed runs the command in a folder of pastSupply.
func replayed(dir string, more ...string) (code int, out, said string) {
	at := func(name string) string { return filepath.Join(dir, name) }
	args := []string{"replay", "--seeds", "2", "--paths", "60", "--history", at("history.csv"), "--plants", at("plants.csv"), "--past-windows", at("past.csv"), "--scenario", at("scenario.json"), "--out", at("out.csv")}
	return command(append(args, more...)...)
}

func TestAReplayPrintsALineAPolicyAndWritesEachScore(t *testing.T) {
	dir := pastSupply(t)
	code, out, said := replayed(dir)
	if code != fault.ExitDone || said != "" {
		t.Fatalf("exit %d: %s", code, said)
	}
	for _, says := range []string{"2 plants from 2020-05-01 to 2020-09-30", "thousands of CAD", "over ours", "\nours ", "\nfill ", "\nupto ", "\nmean ", "A planning aid"} {
		if !strings.Contains(out, says) {
			t.Errorf("printed\n%s\nwant %q", out, says)
		}
	}
	records, err := csv.NewReader(strings.NewReader(string(contents(t, filepath.Join(dir, "out.csv"))))).ReadAll()
	if err != nil || len(records) != 1+2*4*2 || strings.Join(records[1][:3], " ") != "P1 ours 1" || strings.Join(records[16][:3], " ") != "P2 mean 2" {
		t.Errorf("%d rows, %v", len(records), err)
	}
}

func TestPoliciesAreReplayedInTheOrderInWhichTheyAreNamed(t *testing.T) {
	code, out, said := replayed(pastSupply(t), "--policy", "upto", "--policy", "fill")
	if code != fault.ExitDone || !strings.Contains(out, "over upto") || strings.Contains(out, "ours") || strings.Index(out, "\nfill ") < strings.Index(out, "\nupto ") {
		t.Errorf("exit %d: %s\n%s", code, said, out)
	}
}

func TestAWrongReplayWritesNothing(t *testing.T) {
	for _, tt := range []struct {
		change func(dir string)
		flags  []string
		code   int
		says   string
	}{
		{nil, []string{"--seeds", "0"}, fault.ExitUsage, "--seeds 0: expected 1 to 1000"},
		{nil, []string{"--paths", "59"}, fault.ExitUsage, "--paths 59: expected 60 to 5000"},
		{nil, []string{"--policy", "best"}, fault.ExitUsage, "--policy best: expected one of ours, fill, upto, mean"},
		{nil, []string{"--policy", "fill", "--policy", "fill"}, fault.ExitUsage, "--policy fill stands twice"},
		{nil, []string{"--out", ""}, fault.ExitUsage, "--out is blank"},
		{nil, []string{"--plants", "x.csv", "--out", "x.csv"}, fault.ExitUsage, "--plants and --out are both x.csv"},
		{nil, []string{"--plants", "none.csv"}, fault.ExitNotFound, "there is no file"},
		{func(dir string) { write(t, dir, "plants.csv", "series_id,usable_l,route\nP1,many,river\n") }, nil, fault.ExitInvalid, `plants.csv:2:usable_l: "many" is no number`},
		{func(dir string) { write(t, dir, "scenario.json", "{}") }, nil, fault.ExitInvalid, "scenario.json:1:start: missing"},
	} {
		dir := pastSupply(t)
		write(t, dir, "out.csv", "of last week\n")
		if tt.change != nil {
			tt.change(dir)
		}
		code, _, said := replayed(dir, tt.flags...)
		if code != tt.code || !strings.Contains(said, tt.says) {
			t.Errorf("%v: exit %d: %s, want %d and %q", tt.flags, code, said, tt.code, tt.says)
		}
		if got := string(contents(t, filepath.Join(dir, "out.csv"))); got != "of last week\n" || names(t, dir) != "history.csv out.csv past.csv plants.csv scenario.json" {
			t.Errorf("out.csv holds %q, the folder %s", got, names(t, dir))
		}
	}
}
