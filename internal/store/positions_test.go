package store

import (
	"testing"
	"time"

	"overwinter/internal/inventory"
)

// TestRowsThatWereThereGetTheirPlaces takes a ledger with rows back to before positions and up again: rows stand in the
// order of their times, those of one millisecond are one version, and the last version is what it was.
func TestRowsThatWereThereGetTheirPlaces(t *testing.T) {
	onEveryEngine(t, func(t *testing.T, db *DB) {
		start := time.UnixMilli(1_000_000)
		write := func(key, replaces string, after time.Duration) {
			t.Helper()
			r := &inventory.MeterReading{Entry: inventory.Entry{Key: key, Replaces: replaces}, Plant: "p", Meter: "m", At: start}
			rows := inventory.Rows{Readings: []*inventory.MeterReading{r}}
			rows.Add(&inventory.Gauging{Entry: inventory.Entry{Key: key}, Plant: "p", Tank: "1", At: start})
			if _, err := db.Record(t.Context(), rows, start.Add(after)); err != nil {
				t.Fatal(err)
			}
		}
		write("b", "", 0)
		write("c", "", time.Millisecond)
		write("a", "b", time.Millisecond)

		migrations, err := db.engine.Migrations(db.sql)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := migrations.DownTo(t.Context(), 8); err != nil {
			t.Fatal(err)
		}
		if err := db.migrate(t.Context()); err != nil {
			t.Fatal(err)
		}

		written, err := db.RowsWritten(t.Context(), 0, 100)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for i, w := range written {
			if w.Position != int64(i+1) {
				t.Errorf("row %d has the position %d", i+1, w.Position)
			}
			got += w.Key + " " + string(w.Kind) + "\n"
		}
		if want := "b meter reading\nb gauging\na meter reading\nc meter reading\na gauging\nc gauging\n"; got != want {
			t.Errorf("in order of writing:\n%swant\n%s", got, want)
		}
		if v, err := db.Version(t.Context()); v != 3 || err != nil {
			t.Errorf("the ledger is at version %d, %v: want 3 as before", v, err)
		}
		first, err := db.VersionAt(t.Context(), start)
		if err != nil || first.Number != 2 {
			t.Errorf("the version of the first write is %+v, %v", first, err)
		}
		rows, err := db.AsKnown(first.Number).PlantRows(t.Context(), "p", start.Add(time.Hour))
		if err != nil || len(rows.Readings) != 1 || rows.Readings[0].Key != "b" {
			t.Errorf("as known after the first write: %+v, %v", rows.Readings, err)
		}
		write("d", "a", time.Second)
		if v, err := db.Version(t.Context()); v != 4 || err != nil {
			t.Errorf("after one more write the ledger is at version %d, %v", v, err)
		}
	})
}
