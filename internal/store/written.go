package store

import (
	"context"
	"database/sql"

	"overwinter/internal/inventory"
)

// RowsWritten gives rows in the order of writing: see inventory.History. Positions are handed out while no
// other writer is at work, so that what can be read has none missing before its last.
func (db *DB) RowsWritten(ctx context.Context, after int64, limit int) (rows []inventory.Written, err error) {
	err = db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.rowsWritten, after, limit)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var w inventory.Written
			if err := found.Scan(&w.Position, &w.Kind, &w.Key, &w.Plant, reference(&w.Replaces), &w.Void, &w.Who, &w.Why,
				instant(&w.RecordedAt)); err != nil {
				return err
			}
			rows = append(rows, w)
		}
		return found.Err()
	})
	return rows, err
}
