package store

import (
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func TestABusyLedgerIsUnavailable(t *testing.T) {
	db := OpenNew(t)
	waiter, err := Open(t.Context(), db.path(t))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = waiter.Close() }()
	waiter.sql.SetMaxOpenConns(1)
	if _, err := waiter.sql.Exec("PRAGMA busy_timeout = 1"); err != nil { // the test need not wait long
		t.Fatal(err)
	}
	tx, err := db.sql.Begin()
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = tx.Rollback() }()

	rows := inventory.Rows{Plants: []*inventory.Plant{{Entry: inventory.Entry{Key: "p"}, ID: "p"}}}
	if _, err := waiter.Record(t.Context(), rows, time.Unix(0, 0)); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("Record: %v, want a fault of kind unavailable", err)
	}
	if _, err := waiter.Directory(t.Context()); err != nil {
		t.Errorf("a reader must not wait for a writer: %v", err)
	}
}

// path is the file that the ledger is in.
func (db *DB) path(t *testing.T) (file string) {
	t.Helper()
	if err := db.sql.QueryRow("SELECT file FROM pragma_database_list WHERE name = 'main'").Scan(&file); err != nil {
		t.Fatal(err)
	}
	return file
}
