package store

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// newLedger gives the content of a new ledger's file: copying it is faster than migrating for each test.
var newLedger = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "ledger")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }() // it lies among temporary files
	path := filepath.Join(dir, "ledger.db")
	db, err := Open(context.Background(), path)
	if err != nil {
		return nil, err
	}
	if err := db.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// OpenNew opens a new ledger and closes it when the test ends.
func OpenNew(t testing.TB) *DB {
	t.Helper()
	content, err := newLedger()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "ledger.db")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return db
}
