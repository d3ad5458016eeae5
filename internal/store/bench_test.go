package store_test

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/units"
)

// BenchmarkRecord writes 100,000 meter readings into a new ledger, and then the same ones again.
func BenchmarkRecord(b *testing.B) {
	rows := readings(100_000)
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			db := open(b, filepath.Join(b.TempDir(), "ledger.db"))
			b.StartTimer()
			mustRecord(b, db, rows)
		}
	})
	b.Run("known", func(b *testing.B) {
		db := open(b, filepath.Join(b.TempDir(), "ledger.db"))
		mustRecord(b, db, rows)
		for b.Loop() {
			mustRecord(b, db, rows)
		}
	})
}

// BenchmarkPlantRows reads three years of daily rounds of one plant among fifty: four tanks and two meters.
func BenchmarkPlantRows(b *testing.B) {
	db := open(b, filepath.Join(b.TempDir(), "ledger.db"))
	for plant := range 50 {
		mustRecord(b, db, rounds(fmt.Sprintf("plant %d", plant), 3*365))
	}
	for b.Loop() {
		rows, err := db.PlantRows(b.Context(), "plant 7", noon.Add(time.Hour))
		if err != nil || rows.Len() != 3*365*6 {
			b.Fatalf("PlantRows gives %d rows, %v", rows.Len(), err)
		}
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
