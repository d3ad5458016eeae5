package api_test

import (
	"context"
	"maps"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/api"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// FuzzNoBodyBreaksTheServiceOrIsHalfWritten sends any text as any report. The service must answer as the
// document declares, never with a failure of its own, and what it refuses must leave no row behind.
func FuzzNoBodyBreaksTheServiceOrIsHalfWritten(f *testing.F) {
	operations := slices.Sorted(maps.Keys(reportOf))
	bodies := examples(f)
	for i, operation := range operations {
		f.Add(uint8(i), "K-1", bodies[operation])
	}
	for _, seed := range []struct{ operation, body string }{
		{"report-round", roundAt("2026-03-02T21:00:00Z")},
		{"report-round", `{"at":"0001-01-01T00:00:00Z","tanks":[{"tank":"\u0000","depth_mm":-0.0}],"meters":null}`},
		{"report-round", `{"at":"2026-03-02T21:00:00Z","filter_bowl":null,"alarms":["leak"],"running_hours":1e7,"note":"\n","confirmed":true}`},
		{"report-delivery", `{"at":"9999-12-31T23:59:59+14:00","volume_l":1e308,"temperature_c":-1e308}`},
		{"report-delivery", `{"at":"2026-03-02T21:00:00Z","volume_l":1e9,"split":[{"tank":"farm-1","volume_l":1e308},{"tank":"farm-1","volume_l":-1e308}],"dips":[{"tank":"/","before":null}]}`},
		{"report-delivery", `{"at":"2026-03-02T21:00:03Z","volume_l":1,"dips":[{"tank":"0","before":null}]}`},
		{"report-order", `{"order":"../..","volume_l":5e-324,"state":"committed","ordered_on":"0001-01-01","early":"9999-12-31","likely":"9999-12-31","late":"9999-12-31"}`},
		{"report-transfer", `{"at":"2026-03-02T21:00:00Z","from_tank":"farm-1","to_tank":"day","open":true,"replaces":"transfer/marten-spit/K-1","who":"a","why":"b"}`},
		{"report-draw", `{"first_day":"1900-01-01","last_day":"2026-03-02","volume_l":1e9,"purpose":"repayment","with":" "}`},
		{"report-period-total", `{"first_day":"2026-03-01","last_day":"2026-03-01","volume_l":-1e9,"energy_kwh":0}`},
		{"report-period-total", `{"first_day":"2026-03-02","last_day":"2026-03-02","volume_l":5e-324,"energy_kwh":1e12}`},
		{"report-meter-swap", `{"at":"2026-03-02T1:30:00Z","meter":"fuel"}`},
		{"report-meter-swap", `{"at":"1900-01-01T00:00:00Z","meter":"fuel"}`},
		{"confirm-row", `{"kind":"draw","row":"draw/marten-spit/K-1","who":"a","why":"b"}`},
		{"withdraw-row", `{"kind":"confirmation","row":"confirmation/marten-spit/K-1","who":"a","why":"b"}`},
	} {
		f.Add(uint8(slices.Index(operations, seed.operation)), "K", seed.body)
	}
	kept := &counted{}
	w := serve(f, filepath.Join(f.TempDir(), "ledger.db"), func(d *api.Deps) { // advice is not what is tried here
		kept.Ledger = d.Ledger.(intake.Ledger)
		d.Intake = &intake.Desk{Ledger: kept, Clock: calendar.At(demo.Now)}
	})
	if _, err := w.db.Record(f.Context(), someOfTheDemo(demo.Now.AddDate(0, 0, -3)), demo.Now); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, which uint8, key, body string) {
		path := "/api/v1" + reportOf[operations[int(which)%len(operations)]].path
		r := httptest.NewRequest("POST", path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", key)
		recorder := httptest.NewRecorder()
		kept.rows, kept.writes = 0, 0
		w.echo.ServeHTTP(recorder, r)
		a := answer{recorder.Result(), recorder.Body.Bytes()}
		a.Request = r
		(&client{tb: t}).check(r, body, a)
		switch {
		case a.StatusCode >= 500:
			t.Fatalf("%s %q: %s", path, body, a.body)
		case a.StatusCode >= 400 && kept.rows > 0:
			t.Fatalf("%s %q was refused and wrote %d rows", path, body, kept.rows)
		case kept.writes > 1:
			t.Fatalf("%s %q was written in %d parts", path, body, kept.writes)
		case a.StatusCode < 400 && kept.rows != a.receipt(t).Written:
			t.Fatalf("%s %q wrote %d rows and says %d", path, body, kept.rows, a.receipt(t).Written)
		}
	})
}

// counted is a ledger that counts what is written to it, and in how many transactions.
type counted struct {
	intake.Ledger
	rows, writes int
}

func (c *counted) RecordReport(ctx context.Context, r inventory.Report, rows inventory.Rows, at time.Time) (inventory.Recorded, error) {
	done, err := c.Ledger.RecordReport(ctx, r, rows, at)
	if err == nil && done.New > 0 {
		c.rows, c.writes = c.rows+done.New, c.writes+1
	}
	return done, err
}
