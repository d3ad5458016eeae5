package sqlite

import (
	"context"

	"overwinter/internal/store/dialect"
)

// load runs one prepared insertion a row: with SQLite that is faster than statements of many rows.
func load(ctx context.Context, tx dialect.Tx, batch dialect.Batch) (map[string]dialect.Kept, error) {
	insert, err := tx.PrepareContext(ctx, batch.Insert)
	if err != nil {
		return nil, err
	}
	defer func() { _ = insert.Close() }() // closed with the transaction in any case
	var passed []string
	next := batch.First
	// The driver starts a goroutine for each call that may be cancelled, which costs more than the insertion.
	unhindered := context.WithoutCancel(ctx)
	for _, row := range batch.Rows {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if batch.First > 0 {
			row[len(row)-1] = next
		}
		result, err := insert.ExecContext(unhindered, row...)
		if err != nil {
			return nil, err
		}
		if n, err := result.RowsAffected(); err != nil {
			return nil, err
		} else if n == 0 {
			passed = append(passed, row[0].(string))
			continue
		}
		next++
	}
	return stored(ctx, tx, batch.Digest, passed)
}

// stored reads what is kept under keys.
func stored(ctx context.Context, tx dialect.Tx, text string, keys []string) (map[string]dialect.Kept, error) {
	if len(keys) == 0 {
		return nil, nil
	}
	look, err := tx.PrepareContext(ctx, text)
	if err != nil {
		return nil, err
	}
	defer func() { _ = look.Close() }() // closed with the transaction in any case
	there := make(map[string]dialect.Kept, len(keys))
	for _, key := range keys {
		var kept dialect.Kept
		if err := look.QueryRowContext(ctx, key).Scan(&kept.Digest, &kept.Position, &kept.Replaced); err != nil {
			return nil, err
		}
		there[key] = kept
	}
	return there, nil
}

// lock has nothing to do: a transaction that may write has taken the database's only write lock when
// it began.
func lock(context.Context, dialect.Tx) error { return nil }
