package main

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/resupply"
	"overwinter/internal/store"
)

// row is what the test compares of a plant.
type row struct {
	Plant       string          `json:"plant"`
	Status      resupply.Status `json:"status"`
	Usable      *float64        `json:"usable_l15"`
	ReserveDate resupply.Dates  `json:"reserve_date"`
	DryDate     resupply.Dates  `json:"dry_date"`
	OrderBy     *calendar.Day   `json:"order_by"`
	Lot         *float64        `json:"lot_l15"`
	Short       *float64        `json:"short_l15"`
}

// advised are the same rows by the chain itself: what `forecast advise --demo` prints.
func advised(t *testing.T) (rows []row) {
	t.Helper()
	db, done, err := store.OpenScratch(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	if err := demo.Load(t.Context(), db); err != nil {
		t.Fatal(err)
	}
	day := demo.AsOf
	fleet, err := advice.Advise(t.Context(), db, advice.Options{AsOf: &day, Now: time.Now(), Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range fleet.Plants {
		r := row{Plant: p.Plant, Status: p.Status, Usable: p.Stock.Usable, ReserveDate: p.ReserveDate, DryDate: p.DryDate}
		if p.Order != nil {
			r.OrderBy, r.Lot = &p.Order.OrderBy, &p.Order.Lot
		}
		if p.Short != nil {
			r.Short = &p.Short.Litres
		}
		rows = append(rows, r)
	}
	return rows
}

func TestTheDemoAnswersAsTheCommandLineDoes(t *testing.T) {
	if raced {
		t.Skip("the plain run of the tests counts; under the race detector smaller ledgers go the same way")
	}
	s := start(t, "--demo")
	want := advised(t)
	s.advised()
	if status, body := s.get("/ready"); status != http.StatusOK {
		t.Errorf("not ready after the first forecast: %d %s", status, body)
	}
	t.Run("the same dates", func(t *testing.T) {
		var got struct{ Plants []row }
		s.decode("/api/v1/plants", &got)
		if diff := cmp.Diff(want, got.Plants); diff != "" {
			t.Errorf("the service differs from the command line (-command +service):\n%s", diff)
		}
		_, page := s.get("/")
		for _, r := range want {
			if r.OrderBy != nil && !strings.Contains(page, shown(*r.OrderBy)) {
				t.Errorf("%s: the fleet's page does not show %s", r.Plant, shown(*r.OrderBy))
			}
		}
	})
	for _, path := range []string{"/", "/plants/" + plant, "/round", "/budget",
		"/books", "/plants/" + plant + "/books", "/plants/" + plant + "/receipts", "/plants/" + plant + "/orders", "/plants/" + plant + "/suppose?load_percent=10", "/plants/" + plant + "?changes=yes", "/plants/" + plant + "/options"} {
		t.Run("the page "+path, func(t *testing.T) {
			if status, page := s.get(path); status != http.StatusOK || !strings.Contains(page, "</h1>") {
				t.Errorf("%d:\n%s", status, page)
			}
		})
	}
	t.Run("a round of the demo's day has happened and counts", func(t *testing.T) {
		before, moment := s.stock(), time.Date(2026, time.March, 2, 22, 0, 0, 0, time.UTC)
		if answer := s.gauge("round-1", moment, 500); !strings.Contains(answer, `"advised":true`) {
			t.Errorf("the round was not advised on: %s", answer)
		}
		if after := s.stock(); after.Newest == nil || !after.Newest.Equal(moment) || *after.Usable >= *before.Usable {
			t.Errorf("before %v L, after %v L at %v", *before.Usable, *after.Usable, after.Newest)
		}
		if again := s.gauge("round-1", moment, 500); !strings.Contains(again, `"rows_written":0`) {
			t.Errorf("the same round again: %s", again)
		}
	})
}

// shown writes a day as the pages do.
func shown(d calendar.Day) string {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, time.UTC).Format("2\u00a0Jan")
}
