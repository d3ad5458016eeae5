package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

// pastFile writes a file of past windows. The river opened on 5 May and closed on 7 October in odd years, six days later
// in even ones; in 2005 it failed, and of 2010 only the closing is known.
func pastFile(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("route,window,year,opens,closes,failed\n")
	for year := 1991; year <= 2020; year++ {
		day := 5 + 6*(1-year%2)
		opens, closes, failed := fmt.Sprintf("%d-05-%02d", year, day), fmt.Sprintf("%d-10-%02d", year, day+2), ""
		switch year {
		case 2005:
			opens, closes, failed = "", "", "yes"
		case 2010:
			opens = ""
		}
		fmt.Fprintf(&b, "river,summer,%d,%s,%s,%s\n", year, opens, closes, failed)
	}
	b.WriteString("road,ice,2020,2021-01-04,,\n")
	return pastText(t, b.String())
}

func pastText(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "past.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// By hand: 14 openings on 5 May, day 125, and 14 on 11 May: mean 128, s² = 28/27 · 9 = 9.333; of one year foretold
// s² · 29/28 = 9.667, deviation 3.109; 10 and 90 % at 1.314 of that (Student, 27 degrees of freedom): 128 ± 4.1, so 4 to 12
// May. Failed in 1 of 30 years: with Jeffreys' prior 1.5 / 31.
func TestTheFitOfPastWindowsIsShown(t *testing.T) {
	code, out, said := command("windows", "--past", pastFile(t))
	if code != fault.ExitDone || said != "" {
		t.Fatal(code, said)
	}
	for _, want := range []string{
		"river, window summer: the season of 2021, foretold from 30 past seasons\n",
		"opens   4 May 2021  8 May 2021   12 May 2021  mean  28 (1991–2020)  128.0, 8 May   3.1",
		"fails: 1 time in 30 years known; chance in one year 4.8 %",
		"opens: left out 2005 (did not open), 2010 (date not known)",
		"closes: left out 2005 (did not open)\n",
		"road, window ice: the season of 2021, foretold from 1 past season\n",
		"too few past dates",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
}

func TestTheFitOfPastWindowsIsAnsweredAsJSON(t *testing.T) {
	code, out, said := command("windows", "--past", pastFile(t), "--json", "--year", "2030", "--opens-lag", "14", "--fail-chance", "0.02")
	if code != fault.ExitDone {
		t.Fatal(code, said)
	}
	var got struct{ Windows []fittedWindow }
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	w := got.Windows[0]
	if w.Year != 2030 || w.Opens.P50.String() != "2030-05-22" || w.Closes.P50.String() != "2030-10-10" || w.Opens.MeanDay != 128 ||
		len(w.Opens.Years) != 28 || w.Opens.Trend == nil || w.Fails.Chance != 1.02/31 || got.Windows[1].Opens != nil {
		t.Errorf("%+v %+v", w, w.Opens)
	}
}

func TestWrongPastWindowsStopTheCommand(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		code int
		want string
	}{
		{"no file", []string{"--past", filepath.Join(t.TempDir(), "none.csv")}, fault.NotFound.ExitCode(), "there is no file"},
		{"no row", []string{"--past", pastText(t, "route,window,year\n")}, fault.Invalid.ExitCode(), "holds no past window"},
		{"a wrong row", []string{"--past", pastText(t, "route,window,year,opens\nr,w,2025,x\n")}, fault.Invalid.ExitCode(), "past.csv cannot be used: 1 problem\n"},
		{"its place", []string{"--past", pastText(t, "route,window,year,opens\nr,w,2025,x\n")}, fault.Invalid.ExitCode(), "2:opens: \"x\" is no day"},
		{"another season", []string{"--past", pastText(t, "route,window,year,opens\nr,w,2018,2018-05-01\nr,w,2019,2019-05-01\nr,w,2020,2021-12-01\n")},
			fault.Invalid.ExitCode(), "the season of 2020 opens on 2021-12-01"},
		{"lag", []string{"--past", pastFile(t), "--opens-lag", "200"}, fault.ExitUsage, "--opens-lag 200: expected -180 to 180 days"},
		{"spread below 0", []string{"--past", pastFile(t), "--closes-lag-sd=-1"}, fault.ExitUsage, "--closes-lag-sd -1: expected 0 to 180 days"},
		{"chance", []string{"--past", pastFile(t), "--fail-chance", "2"}, fault.ExitUsage, "--fail-chance 2: expected 0 to 1"},
		{"year", []string{"--past", pastFile(t), "--year", "26"}, fault.ExitUsage, "--year 26: expected 1900 to 2200"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, out, said := command(append([]string{"windows"}, tt.args...)...)
			if code != tt.code || !strings.Contains(said, tt.want) || out != "" {
				t.Errorf("exit code %d, said %q, printed %q", code, said, out)
			}
		})
	}
}
