package api_test

import (
	"maps"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/api"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/intake"
)

// FuzzNoBodyBreaksTheServiceOrIsHalfWritten sends any text as any report. The service must answer as the
// document declares, never with a failure of its own, and what it refuses must leave no row behind.
func FuzzNoBodyBreaksTheServiceOrIsHalfWritten(f *testing.F) {
	operations := slices.Sorted(maps.Keys(reportOf))
	bodies := examples(f)
	for i, operation := range operations {
		f.Add(uint8(i), "K-1", bodies[operation])
	}
	f.Add(uint8(4), "K", roundAt("2026-03-02T21:00:00Z"))
	f.Add(uint8(4), "K", `{"at":"0001-01-01T00:00:00Z","tanks":[{"tank":"\u0000","depth_mm":-0.0}],"meters":null}`)
	f.Add(uint8(0), "K", `{"at":"9999-12-31T23:59:59+14:00","volume_l":1e308,"temperature_c":-1e308}`)
	f.Add(uint8(2), "K", `{"order":"../..","volume_l":5e-324,"state":"committed","ordered_on":"0001-01-01","early":"9999-12-31","likely":"9999-12-31","late":"9999-12-31"}`)
	w := open(f, func(d *api.Deps) { // advice is not what is tried here
		d.Intake = &intake.Desk{Ledger: d.Ledger.(intake.Ledger), Advice: d.Desk, Clock: calendar.At(demo.Now)}
	})
	f.Fuzz(func(t *testing.T, which uint8, key, body string) {
		to := reportOf[operations[int(which)%len(operations)]]
		plant, path := to.plant, "/api/v1"+to.path
		before := w.rows(t, plant)
		r := httptest.NewRequest("POST", path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", key)
		recorder := httptest.NewRecorder()
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		(&client{tb: t}).check(r, body, a)
		switch {
		case a.StatusCode >= 500:
			t.Fatalf("%s %q: %s", path, body, a.body)
		case a.StatusCode >= 400 && w.rows(t, plant) != before:
			t.Fatalf("%s %q was refused and wrote %d rows", path, body, w.rows(t, plant)-before)
		case a.StatusCode == 201 && strings.HasSuffix(path, "/rounds"):
			if got := w.rows(t, plant) - before; got > a.receipt(t).Written {
				t.Fatalf("%q wrote %d rows and says %d", body, got, a.receipt(t).Written)
			}
		}
	})
}
