package store

import (
	"context"
	"database/sql"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// Directory gives the plants, their equipment and their supply: see inventory.Reader.
func (db *DB) Directory(ctx context.Context) (inventory.Rows, error) {
	var rows inventory.Rows
	err := db.read(ctx, func(tx *sql.Tx) error {
		for _, t := range tables {
			if t.query != "DirectoryRows" {
				continue
			}
			if err := db.readRows(ctx, tx, t, &rows); err != nil {
				return err
			}
		}
		return db.readPoints(ctx, tx, rows.Tanks)
	})
	if err != nil {
		return inventory.Rows{}, err
	}
	return rows, nil
}

// PlantRows gives one plant's readings and movements before an instant: see inventory.Reader.
func (db *DB) PlantRows(ctx context.Context, plant string, before time.Time) (inventory.Rows, error) {
	return db.RecentRows(ctx, plant, time.Date(0, time.January, 1, 0, 0, 0, 0, time.UTC), before)
}

// RecentRows gives one plant's readings and movements between two instants: see inventory.Reader.
func (db *DB) RecentRows(ctx context.Context, plant string, from, before time.Time) (inventory.Rows, error) {
	startMS, afterDay := bounds(from)
	endMS, lastDay := bounds(before)
	parameters := map[string][]any{
		"RowsByTime":   {plant, startMS, endMS},
		"RowsByDay":    {plant, (afterDay + 1).String(), lastDay.String()},
		"RowsOfOrders": {plant},
	}
	var rows inventory.Rows
	err := db.read(ctx, func(tx *sql.Tx) error {
		for _, t := range tables {
			if args, ok := parameters[t.query]; ok {
				if err := db.readRows(ctx, tx, t, &rows, args...); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		return inventory.Rows{}, err
	}
	return rows, nil
}

// Version counts the writes that brought new rows: see inventory.Reader.
func (db *DB) Version(ctx context.Context) (version int64, err error) {
	err = db.sql.QueryRowContext(ctx, db.text.version).Scan(&version)
	return version, db.fault(ctx, err)
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
