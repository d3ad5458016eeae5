package store_test

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/store/pgtest"
	"overwinter/internal/units"
)

// ledgers open a new ledger of each engine. PostgreSQL's server waits for the disk as SQLite does.
func ledgers(b *testing.B) map[string]func() *store.DB {
	return map[string]func() *store.DB{
		"SQLite":     func() *store.DB { return store.OpenAndClose(b, filepath.Join(b.TempDir(), "ledger.db")) },
		"PostgreSQL": func() *store.DB { return store.OpenAndClose(b, pgtest.Start(b).New(b)) },
	}
}

// BenchmarkRecord writes 100,000 meter readings into a new ledger, and then the same ones again; and one
// reading at a time.
func BenchmarkRecord(b *testing.B) {
	rows := readings(100_000)
	for engine, ledger := range ledgers(b) {
		b.Run(engine+"/new", func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				db := ledger()
				b.StartTimer()
				mustRecord(b, db, rows)
			}
		})
		b.Run(engine+"/known", func(b *testing.B) {
			db := ledger()
			mustRecord(b, db, rows)
			for b.Loop() {
				mustRecord(b, db, rows)
			}
		})
		b.Run(engine+"/one", func(b *testing.B) {
			db := ledger()
			for n := 0; b.Loop(); n++ {
				one := inventory.MeterReading{Entry: inventory.Entry{Key: fmt.Sprint(n)}, Plant: "p", Meter: "m", At: noon}
				mustRecord(b, db, inventory.Rows{Readings: []*inventory.MeterReading{&one}})
			}
		})
	}
}

// BenchmarkPlantRows reads three years of daily rounds of one plant among fifty: four tanks and two meters.
func BenchmarkPlantRows(b *testing.B) {
	for engine, ledger := range ledgers(b) {
		b.Run(engine, func(b *testing.B) {
			db := ledger()
			for plant := range 50 {
				mustRecord(b, db, rounds(fmt.Sprintf("plant %d", plant), 3*365))
			}
			for b.Loop() {
				rows, err := db.PlantRows(b.Context(), "plant 7", noon.Add(time.Hour))
				if err != nil || rows.Len() != 3*365*6 {
					b.Fatalf("PlantRows gives %d rows, %v", rows.Len(), err)
				}
			}
		})
	}
}

func rounds(plant string, days int) inventory.Rows {
	var rows inventory.Rows
	for n := range days {
		at := noon.AddDate(0, 0, -n)
		for i := range 4 {
			depth := units.Millimetres(n)
			e := inventory.Entry{Key: fmt.Sprintf("%s %d %s", plant, i, at.Format(time.RFC3339))}
			rows.Add(&inventory.Gauging{Entry: e, Plant: plant, Tank: fmt.Sprint(i), At: at, Depth: &depth})
			if i < 2 {
				rows.Add(&inventory.MeterReading{Entry: e, Plant: plant, Meter: fmt.Sprint(i), At: at, Register: float64(n)})
			}
		}
	}
	return rows
}

func mustRecord(b *testing.B, db *store.DB, rows inventory.Rows) {
	b.Helper()
	if _, err := db.Record(b.Context(), rows, noon); err != nil {
		b.Fatal(err)
	}
}
