package store

import (
	"context"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// RecordReport writes the rows of a report: see inventory.Recorder.
func (db *DB) RecordReport(ctx context.Context, report inventory.Report, rows inventory.Rows, recordedAt time.Time) (inventory.Recorded, error) {
	return db.record(ctx, recordedAt, func(w *writer) error {
		known, err := reported(ctx, w.tx, db.text.reportDigest, report)
		if err != nil {
			return err
		}
		if known {
			w.done = inventory.Recorded{Known: rows.Len()}
			return w.lookUp(ctx, rows)
		}
		if err := w.addAll(ctx, streamOf(rows)); err != nil {
			return err
		}
		_, err = w.tx.ExecContext(ctx, db.text.insertReport, report.Key, report.Content, recordedAt.UnixMilli())
		return err
	})
}

// Reported tells whether a report is in the ledger: see inventory.Recorder.
func (db *DB) Reported(ctx context.Context, report inventory.Report) (bool, error) {
	known, err := reported(ctx, db.sql, db.text.reportDigest, report)
	return known, db.fault(ctx, err)
}

func reported(ctx context.Context, on querier, query string, report inventory.Report) (bool, error) {
	var content string
	found, err := one(on.QueryRowContext(ctx, query, report.Key), &content)
	if err == nil && found && content != report.Content {
		err = fault.Wrap(fault.Conflict, inventory.ErrKeyTaken, "the key of the report is used for another one: nothing was written")
	}
	return found && err == nil, err
}
