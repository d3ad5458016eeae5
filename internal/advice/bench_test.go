package advice_test

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
)

// database opens a database that holds rows.
func database(t testing.TB, rows inventory.Rows) *store.DB {
	t.Helper()
	ctx := context.Background()
	db, err := store.Open(ctx, filepath.Join(t.TempDir(), "demo.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	if _, err := db.Record(ctx, rows, demo.Now); err != nil {
		t.Fatal(err)
	}
	return db
}

// manyPlants is the plants of several demo scenarios, each with its own routes, in one climate group.
func manyPlants(seeds int) inventory.Rows {
	var all inventory.Rows
	for seed := range seeds {
		rows := demo.Generate(uint64(seed + 1)).InForce()
		of := func(id *string) { *id = fmt.Sprintf("%02d-%s", seed, *id) }
		for r := range rows.All() {
			ownedBy(r, of)
			all.Add(r)
		}
	}
	return all
}

// ownedBy renames the plants and routes of a row.
func ownedBy(r inventory.Record, of func(id *string)) {
	switch v := r.(type) {
	case *inventory.Plant:
		of(&v.ID)
		v.Group = "one"
	case *inventory.Tank:
		of(&v.Plant)
	case *inventory.Meter:
		of(&v.Plant)
	case *inventory.MeterReading:
		of(&v.Plant)
	case *inventory.MeterSwap:
		of(&v.Plant)
	case *inventory.Gauging:
		of(&v.Plant)
	case *inventory.PeriodTotal:
		of(&v.Plant)
	case *inventory.Delivery:
		of(&v.Plant)
	case *inventory.Transfer:
		of(&v.Plant)
	case *inventory.Draw:
		of(&v.Plant)
	case *inventory.Order:
		of(&v.Plant)
	case *inventory.Clearance:
		of(&v.Plant)
	case *inventory.Route:
		of(&v.ID)
	case *inventory.Service:
		of(&v.Route)
		of(&v.Plant)
	case *inventory.Window:
		of(&v.Route)
	}
}

// asPeopleSee are the options with as many futures as the service has.
func asPeopleSee() advice.Options {
	o := adviserOptions()
	o.Paths = 0
	return o
}

func BenchmarkAdviseDemo(b *testing.B) {
	db := database(b, demo.Generate(demo.DefaultSeed).Rows)
	for b.Loop() {
		if _, err := advice.Advise(context.Background(), db, asPeopleSee()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAdviseOnePlantOfTheDemo(b *testing.B) {
	db := database(b, demo.Generate(demo.DefaultSeed).Rows)
	advisePlant(b, db, "grayling-mouth")
}

func BenchmarkAdviseOnePlantOfThreeHundred(b *testing.B) {
	advisePlant(b, newLedger(manyPlants(24)), "00-grayling-mouth") // 312
}

// advisePlant advises a plant again and again, after a first time that reads the others of its group.
func advisePlant(b *testing.B, store advice.Keeper, id string) {
	a := advice.NewAdviser(store, asPeopleSee(), calendar.At(demo.Now))
	if _, err := a.Plant(context.Background(), id); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := a.Plant(context.Background(), id); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSupposeAtOnePlantOfTheDemo supposes again and again, after a first time that reads the others.
func BenchmarkSupposeAtOnePlantOfTheDemo(b *testing.B) {
	a := advice.NewAdviser(database(b, demo.Generate(demo.DefaultSeed).Rows), asPeopleSee(), calendar.At(demo.Now))
	tenth := advice.Supposition{LoadPercent: ptr(10.0)}
	if _, err := a.Suppose(context.Background(), "grayling-mouth", tenth); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := a.Suppose(context.Background(), "grayling-mouth", tenth); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSensitivitiesAtOnePlantOfTheDemo asks again and again, after a first time that reads the others.
func BenchmarkSensitivitiesAtOnePlantOfTheDemo(b *testing.B) {
	a := advice.NewAdviser(database(b, demo.Generate(demo.DefaultSeed).Rows), asPeopleSee(), calendar.At(demo.Now))
	if _, err := a.Sensitivities(context.Background(), "grayling-mouth"); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := a.Sensitivities(context.Background(), "grayling-mouth"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDueOfThreeHundred(b *testing.B) {
	a := advice.NewAdviser(newLedger(manyPlants(24)), asPeopleSee(), calendar.At(demo.Now))
	for b.Loop() {
		if _, err := a.Due(context.Background(), math.MaxInt64); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLookAtADeskWithoutNews(b *testing.B) {
	db := database(b, demo.Generate(demo.DefaultSeed).Rows)
	o := adviserOptions()
	if _, err := advice.Advise(context.Background(), db, o); err != nil {
		b.Fatal(err)
	}
	desk := advice.NewDesk(db, o.Seed)
	for b.Loop() {
		if _, err := desk.InForce(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
