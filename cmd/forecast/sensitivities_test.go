package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

func TestSensitivitiesAreShownGreatestEffectFirst(t *testing.T) {
	unraced(t)
	code, out, errors := command("sensitivities", "--demo", "coral-step")
	if code != fault.ExitDone || errors != "" {
		t.Fatalf("exit %d: %s", code, errors)
	}
	spaced := regexp.MustCompile(" {2,}").ReplaceAllString(out, " | ")
	for _, want := range []string{"change | order by | lot | missing | then", "\nlead time -1 d | +", "\nlead time +1 d | -", "\nburn -5 % | +", "Nothing is saved.", "A planning aid"} {
		if !strings.Contains(spaced, want) {
			t.Errorf("%q is missing in\n%s", want, spaced)
		}
	}
	_, text, _ := command("sensitivities", "--demo", "coral-step", "--json")
	var got advice.Sensitive
	if err := json.Unmarshal([]byte(text), &got); err != nil || got.Order == nil || got.Basis != "15C" {
		t.Fatalf("%v: %s", err, text)
	}
	days := func(what resupply.Change, by float64) int {
		i := slices.IndexFunc(got.Sensitivities, func(s resupply.Sensitivity) bool { return s.What == what && s.By == by })
		return *got.Sensitivities[i].OrderByDays
	}
	if days(resupply.ChangedLead, -1) != 1 || days(resupply.ChangedLead, 1) != -1 || days(resupply.ChangedBurn, -5) <= 0 {
		t.Errorf("%s", text)
	}
}

func TestSensitivitiesOfNoPlantAreRefused(t *testing.T) {
	unraced(t)
	nowhere := filepath.Join(t.TempDir(), "nowhere.db")
	for _, tt := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"sensitivities", "--demo", "atlantis"}, fault.ExitNotFound, `no plant "atlantis"`},
		{[]string{"sensitivities", "--db", nowhere, "P"}, fault.ExitNotFound, "load a data folder first"},
		{[]string{"sensitivities"}, fault.ExitUsage, "<plant>"},
	} {
		if code, _, errors := command(tt.args...); code != tt.code || !strings.Contains(errors, tt.says) {
			t.Errorf("%v: exit %d, %q", tt.args, code, errors)
		}
	}
}
