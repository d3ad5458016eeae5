package postgres

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"

	"overwinter/internal/store/dialect"
)

// load copies the rows whose key is not there. No other writer can add one in between: see lockWriters.
// So no passing table is needed, which for a single reading would cost more than the reading.
func load(ctx context.Context, tx dialect.Tx, batch dialect.Batch) (there map[string]dialect.Kept, err error) {
	if len(batch.Rows) == 0 {
		return nil, nil
	}
	fresh := batch.Rows
	if batch.Digest != "" {
		if there, err = stored(ctx, tx, batch); err != nil {
			return nil, err
		}
		fresh = without(batch.Rows, there)
	}
	if len(fresh) == 0 {
		return there, nil
	}
	if batch.First > 0 {
		for i, row := range fresh {
			row[len(row)-1] = batch.First + int64(i)
		}
	}
	return there, tx.Conn.Raw(func(conn any) error {
		_, err := conn.(*stdlib.Conn).Conn().CopyFrom(ctx, pgx.Identifier{batch.Table}, batch.Columns, pgx.CopyFromRows(fresh))
		return err
	})
}

// stored gives the rows that are there already.
func stored(ctx context.Context, tx dialect.Tx, batch dialect.Batch) (map[string]dialect.Kept, error) {
	keys := make([]string, len(batch.Rows))
	for i, row := range batch.Rows {
		keys[i] = row[0].(string)
	}
	found, err := tx.QueryContext(ctx, fmt.Sprintf(
		`SELECT r.key, r.digest, r.position, coalesce((SELECT n.key FROM %[1]s AS n WHERE n.replaces = r.key), '') FROM %[1]s AS r WHERE r.key = ANY ($1)`, batch.Table), keys)
	if err != nil {
		return nil, err
	}
	defer func() { _ = found.Close() }() // read to its end below
	there := map[string]dialect.Kept{}
	for found.Next() {
		var key string
		var kept dialect.Kept
		if err := found.Scan(&key, &kept.Digest, &kept.Position, &kept.Replaced); err != nil {
			return nil, err
		}
		there[key] = kept
	}
	return there, found.Err()
}

func without(rows [][]any, there map[string]dialect.Kept) [][]any {
	if len(there) == 0 {
		return rows
	}
	var fresh [][]any
	for _, row := range rows {
		if _, known := there[row[0].(string)]; !known {
			fresh = append(fresh, row)
		}
	}
	return fresh
}

// writing is the advisory lock that a writer of the ledger holds; the number is arbitrary.
const writing = 4_017_226_381

// lockWriters waits for the ledger's only place to write, which is given up when the transaction ends.
func lockWriters(ctx context.Context, tx dialect.Tx) error {
	_, err := tx.ExecContext(ctx, `SELECT pg_advisory_xact_lock($1)`, writing)
	return err
}
