// Package store keeps the ledger and the advice as issued in a database. It holds the one
// implementation of inventory.Store and inventory.IssuedStore; what an engine does in its own way is
// behind the dialect.
package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"regexp"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
	"overwinter/internal/store/sqlite"
	sqltext "overwinter/sql"
)

// DB is an open ledger. It may be used from several goroutines at once.
type DB struct {
	sql    *sql.DB
	engine dialect.Dialect
	text   statements
}

var (
	_ inventory.Store       = (*DB)(nil)
	_ inventory.IssuedStore = (*DB)(nil)
)

// Open opens the ledger that a URL names and brings its tables up to date. The URL is sqlite:PATH,
// sqlite://PATH or the plain path of a file, which is made if it is not there.
//
// The error is fault.Invalid where the URL is not supported, the file's folder is missing or the file
// is no ledger that this release can use, and fault.Unavailable where the database is busy.
func Open(ctx context.Context, url string) (*DB, error) {
	path, err := sqlitePath(url)
	if err != nil {
		return nil, err
	}
	pool, engine, err := sqlite.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	db, err := start(ctx, pool, engine)
	if err != nil {
		_ = pool.Close() // the failure to start is what matters
		return nil, sqlite.CannotOpen(err, path)
	}
	return db, nil
}

func start(ctx context.Context, pool *sql.DB, engine dialect.Dialect) (*DB, error) {
	text, _, err := loadStatements(sqltext.Queries())
	if err != nil {
		return nil, err
	}
	db := &DB{sql: pool, engine: engine, text: text}
	return db, db.migrate(ctx)
}

// Exists tells whether there is something at the URL that Open would open rather than make.
func Exists(url string) bool {
	path, err := sqlitePath(url)
	if err != nil {
		return true // Open says what is wrong with it
	}
	_, err = os.Stat(path)
	return err == nil
}

// Close releases the database. It is the last call.
func (db *DB) Close() error { return db.sql.Close() }

// scheme has two letters or more: one letter and a colon is a drive.
var scheme = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]+:`)

func sqlitePath(url string) (string, error) {
	if path, ok := strings.CutPrefix(url, "sqlite:"); ok {
		return strings.TrimPrefix(path, "//"), nil
	}
	if found := scheme.FindString(url); found != "" { // the rest may hold a password and is not shown
		return "", fault.New(fault.Invalid,
			"ledgers at %q are not supported: expected sqlite:PATH, sqlite://PATH or the path of a file", found)
	}
	return url, nil
}

// write runs one transaction that writes: all of it or nothing.
func (db *DB) write(ctx context.Context, do func(*sql.Tx) error) error {
	return db.transact(ctx, nil, func(tx *sql.Tx) error {
		if err := db.engine.Lock(ctx, tx); err != nil {
			return err
		}
		return do(tx)
	})
}

// read runs queries that all see the ledger as it was at one moment.
func (db *DB) read(ctx context.Context, do func(*sql.Tx) error) error {
	return db.transact(ctx, &sql.TxOptions{ReadOnly: true, Isolation: sql.LevelRepeatableRead}, do)
}

func (db *DB) transact(ctx context.Context, options *sql.TxOptions, do func(*sql.Tx) error) error {
	tx, err := db.sql.BeginTx(ctx, options)
	if err != nil {
		return db.fault(err)
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // the first failure is what matters
		if errors.Is(err, errRehearsed) {
			return err
		}
		return db.fault(err)
	}
	return db.fault(tx.Commit())
}

// fault gives an error of the database its kind and a message for people. A fault stays as it is.
func (db *DB) fault(err error) error {
	var known *fault.Error
	if err == nil || errors.As(err, &known) {
		return err
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return fault.Wrap(fault.Unavailable, err, "the ledger was not waited for")
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
