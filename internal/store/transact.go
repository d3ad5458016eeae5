package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"overwinter/internal/fault"
	"overwinter/internal/store/dialect"
)

// write runs one transaction that writes: all of it or nothing.
func (db *DB) write(ctx context.Context, do func(dialect.Tx) error) error {
	select {
	case db.writing <- struct{}{}:
		defer func() { <-db.writing }()
	case <-ctx.Done():
		return db.fault(ctx, ctx.Err())
	}
	conn, err := db.sql.Conn(ctx)
	if err != nil {
		return db.fault(ctx, err)
	}
	defer func() { _ = conn.Close() }() // it goes back to the pool
	return db.transact(ctx, conn, latest, func(tx *sql.Tx) error {
		writing := dialect.Tx{Tx: tx, Conn: conn}
		if err := db.engine.Lock(ctx, writing); err != nil {
			return err
		}
		return do(writing)
	})
}

// latest lets each statement of a writer see what was committed before it: a writer that has waited in
// line must not check its rows against the ledger as it was when it came.
var latest = &sql.TxOptions{Isolation: sql.LevelReadCommitted}

// read runs queries that all see the ledger as it was at one moment.
func (db *DB) read(ctx context.Context, do func(*sql.Tx) error) error {
	return db.transact(ctx, db.sql, &sql.TxOptions{ReadOnly: true, Isolation: sql.LevelRepeatableRead}, do)
}

type beginner interface {
	BeginTx(context.Context, *sql.TxOptions) (*sql.Tx, error)
}

func (db *DB) transact(ctx context.Context, on beginner, options *sql.TxOptions, do func(*sql.Tx) error) error {
	tx, err := on.BeginTx(ctx, options)
	if err != nil {
		return db.fault(ctx, err)
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // the first failure is what matters
		if errors.Is(err, errRehearsed) {
			return err
		}
		return db.fault(ctx, err)
	}
	return db.fault(ctx, tx.Commit())
}

// fault gives an error of the database its kind and a message for people. A fault stays as it is.
func (db *DB) fault(ctx context.Context, err error) error {
	var known *fault.Error
	if err == nil || errors.As(err, &known) {
		return err
	}
	if ctx.Err() != nil { // whatever the engine makes of it
		return fault.Wrap(fault.Unavailable, fmt.Errorf("%w: %w", ctx.Err(), err), "the ledger was not waited for")
	}
	switch kind := db.engine.Classify(err); kind {
	case fault.Unavailable:
		return fault.Wrap(kind, err, "the ledger cannot be reached now or is busy: try again")
	case fault.Conflict:
		return fault.Wrap(kind, err, "the ledger already holds such a row")
	default:
		return fault.Wrap(kind, err, "the ledger failed")
	}
}
