package store_test

import (
	"testing"

	"overwinter/internal/store"
	"overwinter/internal/store/storetest"
)

func TestTheSQLiteStoreKeepsItsContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) storetest.Store { return store.OpenNew(t) })
}

func open(t testing.TB, url string) *store.DB {
	t.Helper()
	db, err := store.Open(t.Context(), url)
	if err != nil {
		t.Fatalf("Open(%q): %v", url, err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return db
}
