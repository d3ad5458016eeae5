package main

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/store/pgtest"
)

// One data folder gives one answer, whatever keeps the ledger, and the database's own views say the same.
func TestEveryEngineGivesTheSameAdvice(t *testing.T) {
	unraced(t)
	postgres := pgtest.New(t)
	file := filepath.Join(t.TempDir(), "ledger.db")
	folder := demoFolder(t)
	answers := map[string]string{}
	for _, db := range []string{file, postgres} {
		if code, out, errors := command("load", "--db", db, folder); code != fault.ExitDone {
			t.Fatalf("exit %d: %s%s", code, out, errors)
		}
		code, answer, errors := command("advise", "--json", "--db", db, "--as-of", "2026-03-02")
		if code != fault.ExitDone {
			t.Fatalf("exit %d: %s", code, errors)
		}
		answers[db] = answer
	}
	if answers[file] != answers[postgres] {
		t.Error("the engines give different advice")
	}
	var fleet advice.Fleet
	if err := json.Unmarshal([]byte(answers[file]), &fleet); err != nil || len(fleet.Plants) == 0 {
		t.Fatalf("the answer is no JSON: %v", err)
	}
	viewed(t, "sqlite", file, fleet)
	viewed(t, "pgx", postgres, fleet)
}

// viewed compares the view of the advice in force with the answer.
func viewed(t *testing.T, driver, source string, fleet advice.Fleet) {
	t.Helper()
	db, err := sql.Open(driver, source)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	found, err := db.QueryContext(t.Context(), `SELECT plant, plant_name, CAST(as_of AS text), status, quality, usable_stock_l15, burn_l15_per_day,
			days_of_cover_to_reserve, days_of_cover_to_empty, reserve_l15, CAST(reserve_date_p50 AS text), CAST(dry_date_p50 AS text),
			CAST(must_last_until AS text), CAST(order_by AS text), route, window_name, lot_l15, short_l15, CAST(short_from AS text)
		FROM advice_in_force WHERE seed = 1`)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = found.Close() }()
	rows := map[string]string{}
	for found.Next() {
		values := make([]any, 19)
		for i := range values {
			values[i] = new(any)
		}
		if err := found.Scan(values...); err != nil {
			t.Fatal(err)
		}
		rows[fmt.Sprint(*values[0].(*any))] = line(values...)
	}
	if err := found.Err(); err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(fleet.Plants) {
		t.Errorf("%s shows %d plants, want %d", driver, len(rows), len(fleet.Plants))
	}
	for _, p := range fleet.Plants {
		if want := expected(p); rows[p.Plant] != want {
			t.Errorf("%s shows\n%s, want\n%s", driver, rows[p.Plant], want)
		}
	}
}

func expected(p advice.Plant) string {
	var burn, lot, short *float64
	var orderBy, shortFrom *calendar.Day
	var route, window *string
	if p.Burn != nil {
		burn = &p.Burn.Next30PerDay
	}
	if p.Order != nil {
		orderBy, route, window, lot = &p.Order.OrderBy, &p.Order.Route, &p.Order.Window, &p.Order.Lot
	}
	if p.Short != nil {
		short, shortFrom = &p.Short.Litres, &p.Short.From
	}
	return line(p.Plant, p.Name, p.AsOf, p.Status, p.Quality, p.Stock.Usable, burn,
		p.DaysToReserve, p.DaysToEmpty, p.Reserve.Litres, p.ReserveDate.P50, p.DryDate.P50,
		p.MustLastUntil, orderBy, route, window, lot, short, shortFrom)
}

// line writes values as JSON, which knows neither types nor pointers; a whole number is one however it is kept.
func line(values ...any) string {
	text, err := json.Marshal(values)
	if err != nil {
		return err.Error()
	}
	return string(text)
}
