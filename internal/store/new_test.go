package store

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"overwinter/internal/store/pgtest"
)

// engines are those that a ledger may be kept with; each opens a new one and closes it when the test ends.
var engines = []struct {
	name string
	open func(testing.TB) *DB
}{
	{"SQLite", OpenNew},
	{"PostgreSQL", OpenNewPostgres},
}

// onEveryEngine runs a test with a new ledger of each engine.
func onEveryEngine(t *testing.T, test func(*testing.T, *DB)) {
	for _, engine := range engines {
		t.Run(engine.name, func(t *testing.T) { test(t, engine.open(t)) })
	}
}

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

// OpenNew opens a new SQLite ledger and closes it when the test ends.
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
	return OpenAndClose(t, path)
}

// OpenNewPostgres opens a new ledger on PostgreSQL and closes it when the test ends.
func OpenNewPostgres(t testing.TB) *DB {
	t.Helper()
	return OpenAndClose(t, NewPostgresLedger(t, pgtest.Shared(t)))
}

// NewPostgresLedger gives the URL of a new ledger.
func NewPostgresLedger(t testing.TB, server *pgtest.Server) string {
	t.Helper()
	return server.Like(t, func(url string) {
		db, err := Open(context.Background(), url)
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	})
}

// OpenAndClose opens a ledger and closes it when the test ends.
func OpenAndClose(t testing.TB, url string) *DB {
	t.Helper()
	db, err := Open(t.Context(), url)
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
