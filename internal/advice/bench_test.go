package advice_test

import (
	"context"
	"path/filepath"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/demo"
	"overwinter/internal/store"
)

// demoLedger opens a ledger that holds the demo scenario of a seed.
func demoLedger(t testing.TB, seed uint64) (*store.DB, demo.Scenario) {
	t.Helper()
	ctx := context.Background()
	db, err := store.Open(ctx, filepath.Join(t.TempDir(), "demo.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	s := demo.Generate(seed)
	if _, err := db.Record(ctx, s.Rows, demo.Now); err != nil {
		t.Fatal(err)
	}
	return db, s
}

func BenchmarkAdviseDemo(b *testing.B) {
	db, _ := demoLedger(b, demo.DefaultSeed)
	day := demo.AsOf
	for b.Loop() {
		if _, err := advice.Advise(context.Background(), db, advice.Options{AsOf: &day, Now: demo.Now, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
