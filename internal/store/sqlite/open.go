// Package sqlite opens an embedded SQLite database for the store. It is the only package that knows
// the driver.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // registers the driver

	"overwinter/internal/fault"
	"overwinter/internal/store/dialect"
	sqltext "overwinter/sql"
)

// Open opens the database in a file, which is made if it is not there. The error is fault.Invalid
// where the path or what it leads to cannot be a ledger, and fault.Unavailable where it is locked.
func Open(ctx context.Context, path string) (*sql.DB, dialect.Dialect, error) {
	engine := dialect.Dialect{
		Name:       "SQLite",
		CannotOpen: func(err error) error { return cannotOpen(err, path) },
		Classify:   classify,
		Load:       load,
		Lock:       lock,
		Migrations: migrations,
	}
	full, err := usable(path)
	if err != nil {
		return nil, engine, err
	}
	db, err := sql.Open("sqlite", dsn(full))
	if err != nil {
		return nil, engine, fault.Wrap(fault.Internal, err, "the SQLite driver cannot be started")
	}
	if err := patiently(ctx, func() error { return ours(ctx, db) }); err != nil {
		_ = db.Close() // the failure to open is what matters
		return nil, engine, cannotOpen(err, path)
	}
	return db, engine, nil
}

// patience is how long a connection waits for another to finish writing.
const patience = 5 * time.Second

// dsn names the file and the settings that every connection of the pool must have: a setting made by a
// statement would hold on one connection only. Writers take the lock when they begin, since a
// transaction that reads first and then writes is refused as soon as another has written. What is
// committed is on the disk.
func dsn(full string) string {
	path := filepath.ToSlash(full)
	if !strings.HasPrefix(path, "/") { // a drive letter
		path = "/" + path
	}
	settings := url.Values{
		"_txlock": {"immediate"},
		"_pragma": {fmt.Sprintf("busy_timeout(%d)", patience.Milliseconds()), "journal_mode(WAL)", "foreign_keys(1)", "synchronous(FULL)"},
	}
	return "file:" + (&url.URL{Path: path}).EscapedPath() + "?" + settings.Encode()
}

// usable gives the absolute path of a file that can be a database as far as its name and folder go.
func usable(path string) (string, error) {
	if path == "" || strings.ContainsRune(path, 0) {
		return "", fault.New(fault.Invalid, "%q is no name of a ledger file", path)
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return "", fault.Wrap(fault.Invalid, err, "%q is no name of a ledger file", path)
	}
	if info, err := os.Stat(full); err == nil && info.IsDir() {
		return "", fault.New(fault.Invalid, "%s is a folder: name a file in it for the ledger", path)
	}
	if _, err := os.Stat(filepath.Dir(full)); errors.Is(err, fs.ErrNotExist) {
		return "", fault.New(fault.Invalid, "the folder %s is not there: make it first", filepath.Dir(full))
	}
	return full, nil
}

// patiently tries again while the file is busy. Two processes that open a new file both put it into
// write-ahead mode, and that is the one lock for which SQLite does not wait by itself.
func patiently(ctx context.Context, connect func() error) error {
	err := connect()
	for deadline := time.Now().Add(patience); busy(err) && time.Now().Before(deadline); err = connect() {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(10 * time.Millisecond):
		}
	}
	return err
}

var errForeign = errors.New("it has tables, but not those of a ledger")

// ours refuses the database of another program, which must not be given our tables.
func ours(ctx context.Context, db *sql.DB) error {
	var foreign bool
	err := db.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM sqlite_schema)
		AND NOT EXISTS (SELECT 1 FROM sqlite_schema WHERE name = 'goose_db_version')`).Scan(&foreign)
	if err == nil && foreign {
		return errForeign
	}
	return err
}

func migrations(db *sql.DB) (*goose.Provider, error) {
	return goose.NewProvider(goose.DialectSQLite3, db, sqltext.SQLiteMigrations())
}
