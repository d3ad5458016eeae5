package main

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"overwinter/internal/store/pgtest"
)

func TestTheServiceOutlivesItsDatabase(t *testing.T) {
	server := pgtest.Start(t)
	url := server.New(t)
	load(t, url)
	s := start(t, "--db", url)
	s.advised()
	round := s.round(time.Now().Truncate(time.Second), 900)
	report := func() (int, string) {
		return send(t, s.report("/api/v1/plants/"+plant+"/rounds", "round-1", strings.NewReader(round)))
	}

	server.Crash(t)
	if status, body := s.get("/health"); status != http.StatusOK {
		t.Errorf("health while the database is away: %d %s", status, body)
	}
	if status, body := s.get("/ready"); status != http.StatusServiceUnavailable || !strings.Contains(body, "the ledger cannot be reached") {
		t.Errorf("ready while the database is away: %d %s", status, body)
	}
	if status, body := s.get("/"); status != http.StatusServiceUnavailable || !strings.Contains(body, "<h1>") {
		t.Errorf("a page while the database is away: %d %s", status, body)
	}
	if status, body := s.get("/api/v1/plants"); status != http.StatusServiceUnavailable || !strings.Contains(body, "/problems/unavailable") {
		t.Errorf("the API while the database is away: %d %s", status, body)
	}
	if status, body := report(); status != http.StatusServiceUnavailable {
		t.Errorf("a report while the database is away: %d %s", status, body)
	}

	server.Restart(t)
	if status, body := s.get("/ready"); status != http.StatusOK {
		t.Errorf("ready when the database is back: %d %s", status, body)
	}
	if status, body := report(); status != http.StatusCreated || !strings.Contains(body, `"advised":true`) {
		t.Errorf("the report sent again: %d %s", status, body)
	}
	if strings.Contains(s.log.String(), "not/for@show") || strings.Contains(s.log.String(), "not%2Ffor") {
		t.Error("the password stands in the log")
	}
}

// Both instances make the first forecast at once; it is kept once, and what one takes in the other shows.
func TestInstancesOnOneDatabaseShowTheSame(t *testing.T) {
	url := pgtest.New(t)
	load(t, url)
	a, b := start(t, "--db", url), start(t, "--db", url)
	a.advised()
	b.advised()
	var issued struct{ Issued []struct{} }
	a.decode("/api/v1/plants/"+plant+"/advice/issued", &issued)
	if len(issued.Issued) != 1 {
		t.Errorf("the advice of both was kept %d times, want once", len(issued.Issued))
	}
	at := time.Now().Truncate(time.Second)
	a.gauge("round-1", at, 900)
	if one, other := a.stock(), b.stock(); one.Usable == nil || other.Usable == nil || *one.Usable != *other.Usable {
		t.Errorf("one shows %+v, the other %+v", one, other)
	}
	if again := b.gauge("round-1", at, 900); !strings.Contains(again, `"rows_written":0`) {
		t.Errorf("the same round by the other: %s", again)
	}
}
