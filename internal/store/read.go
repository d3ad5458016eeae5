package store

import (
	"context"
	"database/sql"
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// everything is beyond the position of any row.
const everything = math.MaxInt64

// Directory gives the plants, their equipment and their supply: see inventory.Reader.
func (db *DB) Directory(ctx context.Context) (rows inventory.Rows, err error) {
	err = db.read(ctx, func(tx *sql.Tx) error {
		rows, err = db.directory(ctx, tx, everything)
		return err
	})
	return rows, err
}

func (db *DB) directory(ctx context.Context, tx *sql.Tx, upTo int64) (rows inventory.Rows, err error) {
	for _, t := range tables {
		if t.query != "DirectoryRows" {
			continue
		}
		if err := db.readRows(ctx, tx, t, &rows, upTo); err != nil {
			return inventory.Rows{}, err
		}
	}
	return rows, db.readPoints(ctx, tx, rows.Tanks, upTo)
}

// always is before any instant that is kept.
var always = time.Date(0, time.January, 1, 0, 0, 0, 0, time.UTC)

// PlantRows gives one plant's readings and movements before an instant: see inventory.Reader.
func (db *DB) PlantRows(ctx context.Context, plant string, before time.Time) (inventory.Rows, error) {
	return db.RecentRows(ctx, plant, always, before)
}

// RecentRows gives one plant's readings and movements between two instants: see inventory.Reader.
func (db *DB) RecentRows(ctx context.Context, plant string, from, before time.Time) (rows inventory.Rows, err error) {
	err = db.read(ctx, func(tx *sql.Tx) error {
		rows, err = db.plantRows(ctx, tx, plant, from, before, everything)
		return err
	})
	return rows, err
}

func (db *DB) plantRows(ctx context.Context, tx *sql.Tx, plant string, from, before time.Time, upTo int64) (rows inventory.Rows, err error) {
	startMS, afterDay := bounds(from)
	endMS, lastDay := bounds(before)
	parameters := map[string][]any{
		"RowsByTime":    {upTo, plant, startMS, endMS},
		"RowsByDay":     {upTo, plant, (afterDay + 1).String(), lastDay.String()},
		"RowsOfGroup":   {upTo, plant, (afterDay + 1).String(), lastDay.String()},
		"RowsOfOrders":  {upTo, plant},
		"RowsOfChanges": {upTo, plant},
		"RowsOfPlant":   {upTo, plant},
	}
	for _, t := range tables {
		if args, ok := parameters[t.query]; ok {
			if err := db.readRows(ctx, tx, t, &rows, args...); err != nil {
				return inventory.Rows{}, err
			}
		}
	}
	return rows, nil
}

// Changes gives the version of each plant's newest row: see inventory.Reader.
func (db *DB) Changes(ctx context.Context) (map[string]int64, error) {
	all := map[string]int64{}
	err := db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.changes)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var plant string
			var version int64
			if err := found.Scan(&plant, &version); err != nil {
				return err
			}
			all[plant] = version
		}
		return found.Err()
	})
	return all, err
}

// bounds gives the first stored millisecond that is not before an instant, and the last day that is
// over by then in UTC.
func bounds(at time.Time) (ms int64, over calendar.Day) {
	end := time.UnixMilli(at.UnixMilli())
	if end.Before(at) {
		end = end.Add(time.Millisecond)
	}
	first, last := calendar.Date(0, time.January, 1), calendar.Date(lastYear, time.December, 31)
	return end.UnixMilli(), min(max(calendar.DayOf(end, time.UTC)-1, first-1), last)
}

// readRows adds the rows in force of one kind, in the order of its query.
func (db *DB) readRows(ctx context.Context, tx *sql.Tx, t table, into *inventory.Rows, args ...any) error {
	found, err := tx.QueryContext(ctx, db.text.kinds[t.kind].inForce, args...)
	if err != nil {
		return err
	}
	defer func() { _ = found.Close() }() // read to its end below
	for found.Next() {
		record := t.empty()
		if err := found.Scan(fields(t.columns(record))...); err != nil {
			return err
		}
		into.Add(record)
	}
	return found.Err()
}

func fields(columns []column) []any {
	into := make([]any, len(columns))
	for i, c := range columns {
		into[i] = c.field
	}
	return into
}
