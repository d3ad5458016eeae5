package sqlite

import (
	"context"
	"database/sql"

	"overwinter/internal/store/dialect"
)

// load runs one prepared insertion a row: with SQLite that is faster than statements of many rows.
func load(ctx context.Context, tx *sql.Tx, batch dialect.Batch) (there []string, err error) {
	insert, err := tx.PrepareContext(ctx, batch.Insert)
	if err != nil {
		return nil, err
	}
	defer func() { _ = insert.Close() }() // closed with the transaction in any case
	for _, row := range batch.Rows {
		result, err := insert.ExecContext(ctx, row...)
		if err != nil {
			return nil, err
		}
		if n, err := result.RowsAffected(); err != nil {
			return nil, err
		} else if n == 0 {
			there = append(there, row[0].(string))
		}
	}
	return there, nil
}

// lock has nothing to do: a transaction that may write has taken the database's only write lock when
// it began.
func lock(context.Context, *sql.Tx) error { return nil }
