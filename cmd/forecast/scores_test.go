package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/score"
	"overwinter/internal/store"
)

// scoredLedger is a ledger with the advice of two plants, of which the forecasts of one have come due.
func scoredLedger(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ledger.db")
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	summary := &score.Summary{
		Apart: 5, MedianError: -2.04, MedianMiss: 4, Pinball: 1.234,
		Inside80: score.Coverage{Inside: 11, Percent: 78.571, Low: 36.3, High: 95.8}, Inside95: score.Coverage{Inside: 13, Percent: 92.857},
		Against: &score.Against{Compared: 12, YearBeforeMiss: 9.25},
	}
	for id, scores := range map[string]*score.Scores{
		"north": {Issued: 17, Lengths: []score.Length{{Months: 3, Due: 15, Scored: 14, Summary: summary}, {Months: 6, Due: 12}}}, "south": nil,
	} {
		p := advice.Plant{Plant: id, Name: "Port " + id, AsOf: calendar.Date(2026, time.March, 2), Seed: 1, Scores: scores}
		body, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if err := db.SaveAdvice(t.Context(), inventory.Issued{Plant: id, AsOf: p.AsOf, Seed: 1, IssuedAt: time.Unix(0, 0), Body: body}); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

func TestScoresAreShownAsTheAdviceInForceHasThem(t *testing.T) {
	db := scoredLedger(t)
	code, out, errors := command("scores", "--db", db)
	if code != fault.ExitDone {
		t.Fatalf("exit %d: %s", code, errors)
	}
	spaced := regexp.MustCompile(" {2,}").ReplaceAllString(out, " | ")
	for _, want := range []string{
		"Port north | 2 Mar 2026 | 3 | 14 of 15 | 79 | 36 to 96 | 93 | 4.0 | -2.0 | 9.2 | 1.23\n", "Port north | 2 Mar 2026 | 6 | 0 of 12 | — |", "Port south | 2 Mar 2026 | — | none due yet |",
	} {
		if !strings.Contains(spaced, want) {
			t.Errorf("%q is missing in\n%s", want, spaced)
		}
	}
	if _, one, _ := command("scores", "--db", db, "south"); strings.Contains(one, "Port north") {
		t.Errorf("another plant was not asked for:\n%s", one)
	}
	_, text, _ := command("scores", "--db", db, "--json", "north", "south")
	var got struct{ Plants []scoresOfPlant }
	if err := json.Unmarshal([]byte(text), &got); err != nil || len(got.Plants) != 2 || got.Plants[0].Scores.Issued != 17 || got.Plants[1].Scores != nil {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestScoresThatAreNotThereSayWhy(t *testing.T) {
	nowhere, empty := filepath.Join(t.TempDir(), "nowhere.db"), filepath.Join(t.TempDir(), "empty.db")
	db, err := store.Open(t.Context(), empty)
	if err != nil {
		t.Fatal(err)
	}
	_ = db.Close()
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"scores", "--db", nowhere}, "load a data folder first"},
		{[]string{"scores", "--db", empty}, "run forecast advise"},
		{[]string{"scores", "--db", scoredLedger(t), "atlantis"}, `no advice for a plant "atlantis"`},
	} {
		if code, _, errors := command(tt.args...); code != fault.ExitNotFound || !strings.Contains(errors, tt.says) {
			t.Errorf("%v: exit %d, %s", tt.args, code, errors)
		}
	}
}
