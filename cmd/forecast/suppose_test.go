package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
)

// A tenth more load for a plant that then stands by in June, July and August: the first 30 days use a tenth more.
func TestASuppositionIsShownWithoutAndWith(t *testing.T) {
	unraced(t)
	args := []string{"suppose", "--demo", "marten-spit", "--load-percent=10", "--standby-from=2026-06-01", "--standby-until=2026-09-01"}
	code, out, errors := command(args...)
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	spaced := regexp.MustCompile(" {2,}").ReplaceAllString(out, " | ")
	for _, want := range []string{
		"Marten Spit (marten-spit), supposed: a load of +10 % from 3 Mar 2026 on; standing by from 1 Jun 2026 until it runs again on 1 Sep 2026.\n",
		" | without | with | difference\n", "use of the next 30 days | ", " (+10.0 %)\n", "reserve reached | ", "runs dry | ", "order by | ", "lot (least to most) | ",
		"what is supposed is taken as sure", "Nothing is saved.", "not a forecast of what will happen", "A planning aid, not a gauge",
	} {
		if !strings.Contains(spaced, want) {
			t.Errorf("%q is missing in\n%s", want, spaced)
		}
	}
	_, text, _ := command(append(args, "--json")...)
	var got advice.Supposed
	if err := json.Unmarshal([]byte(text), &got); err != nil || got.Basis != "15C" || len(got.Uses) != 3 || math.Abs(*got.Uses[0].Percent-10) > 1e-4 || got.Uses[2].Difference >= 0 {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestASuppositionThatCannotBeIsRefusedByItsFlag(t *testing.T) {
	unraced(t)
	nowhere, db := filepath.Join(t.TempDir(), "nowhere.db"), filepath.Join(t.TempDir(), "ledger.db")
	if code, _, errors := command("load", "--db", db, demoFolder(t)); code != fault.ExitDone {
		t.Fatal(errors)
	}
	of := func(args ...string) []string { return append([]string{"--db", db, "--as-of=2026-03-02"}, args...) }
	for _, tt := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"--db", nowhere, "P", "--winter=1"}, fault.ExitNotFound, "load a data folder first"},
		{[]string{"--db", nowhere}, fault.ExitUsage, "<plant>"},
		{of("P", "--load-kw=much"), fault.ExitUsage, "--load-kw"},
		{of("P", "--load-from=1.3.2026"), fault.ExitUsage, `--load-from: "1.3.2026" is no date: expected YYYY-MM-DD`},
		{of("P", "--standby-from="), fault.ExitUsage, `--standby-from: "" is no date`},
		{of("P", "--engines-from=2026-02-30"), fault.ExitUsage, `--engines-from: "2026-02-30" is no date`},
		{of("P", "--load-kw=4"), fault.ExitNotFound, `there is no plant "P"`},
		{of("marten-spit"), fault.ExitInvalid, "nothing is supposed"},
		{of("marten-spit", "--winter=NaN", "--engines-less-percent=100"), fault.ExitInvalid, "\n  --engines-less-percent: found 100"},
		{of("marten-spit", "--standby-until=2026-06-01"), fault.ExitInvalid, "\n  --standby-until: the first day"},
	} {
		code, out, errors := command(append([]string{"suppose"}, tt.args...)...)
		if code != tt.code || !strings.Contains(errors, tt.says) || tt.code != fault.ExitUsage && out != "" {
			t.Errorf("%v: exit %d, want %d; said %q %q", tt.args, code, tt.code, out, errors)
		}
	}
}
