package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
)

// Record writes all rows or none: see inventory.Recorder. Instants are kept in UTC and to the
// millisecond, so two rows that differ in nothing else are the same.
func (db *DB) Record(ctx context.Context, rows inventory.Rows, recordedAt time.Time) (inventory.Recorded, error) {
	return db.RecordStream(ctx, streamOf(rows), recordedAt)
}

// Rehearse does what Record does and takes it back: see inventory.Recorder.
func (db *DB) Rehearse(ctx context.Context, rows inventory.Rows, recordedAt time.Time) (inventory.Recorded, error) {
	return db.RehearseStream(ctx, streamOf(rows), recordedAt)
}

// RecordStream writes all rows of a stream or none: see inventory.Recorder. It holds some thousands of rows at a
// time, however many there are; besides, one entry for each plant that has new rows, and for each row that another
// replaces.
func (db *DB) RecordStream(ctx context.Context, rows inventory.Stream, recordedAt time.Time) (inventory.Recorded, error) {
	return db.record(ctx, recordedAt, func(w *writer) error { return w.addAll(ctx, rows) })
}

// RehearseStream does what RecordStream does and takes it back: see inventory.Recorder.
func (db *DB) RehearseStream(ctx context.Context, rows inventory.Stream, recordedAt time.Time) (inventory.Recorded, error) {
	return db.record(ctx, recordedAt, func(w *writer) error {
		if err := w.addAll(ctx, rows); err != nil {
			return err
		}
		return errRehearsed
	})
}

// streamOf gives the rows of a set one by one.
func streamOf(rows inventory.Rows) inventory.Stream {
	return func(yield func(inventory.Record, error) bool) {
		for record := range rows.All() {
			if !yield(record, nil) {
				return
			}
		}
	}
}

// errRehearsed gives a transaction up that found nothing wrong.
var errRehearsed = errors.New("rehearsed")

// record does a writer's work within one transaction, which is given up where the work returns an error.
func (db *DB) record(ctx context.Context, recordedAt time.Time, work func(*writer) error) (inventory.Recorded, error) {
	var w writer
	err := db.write(ctx, func(tx dialect.Tx) error {
		w = writer{engine: db.engine, tx: tx, text: db.text, recordedMS: recordedAt.UnixMilli(),
			changed: map[string]bool{}, fresh: map[inventory.Kind]bool{}, corrected: map[inventory.Kind]bool{}, standing: newStanding()}
		return work(&w)
	})
	if err != nil && !errors.Is(err, errRehearsed) {
		return inventory.Recorded{}, err
	}
	return w.done, nil
}

// one scans a single row; found is false where there is none.
func one(row *sql.Row, into ...any) (found bool, err error) {
	err = row.Scan(into...)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}
