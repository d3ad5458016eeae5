package storetest

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func everyKindComesBackAsWritten(t *testing.T, s Store) {
	for _, sample := range [][]inventory.Record{bare(), full()} {
		done := record(t, s, batch(sample...))
		same(t, "counts", done, inventory.Recorded{New: len(sample)})
		same(t, "rows in force", everything(t, s), batch(sample...))
	}
}

// everything puts the directory and the sample plant's rows together.
func everything(t testing.TB, s Store) inventory.Rows {
	t.Helper()
	all := directory(t, s)
	rows := plantRows(t, s, plant, late)
	for r := range rows.All() {
		all.Add(r)
	}
	return all
}

func aCorrectedTankHasItsOwnCapacityTable(t *testing.T, s Store) {
	tank := func(key, replaces, id string, top units.Litres) *inventory.Tank {
		return &inventory.Tank{Entry: inventory.Entry{Key: key, Replaces: replaces}, Plant: plant, ID: id, Shape: inventory.ShapeTable,
			Table: []tanks.Point{{Depth: 0, Volume: 10}, {Depth: 9, Volume: top / 2}, {Depth: 1000, Volume: top}}}
	}
	record(t, s, batch(tank("a1", "", "a", 100), tank("b1", "", "b", 200)))
	record(t, s, batch(tank("a2", "a1", "a", 300)))
	same(t, "tanks", directory(t, s).Tanks, []*inventory.Tank{tank("a2", "a1", "a", 300), tank("b1", "", "b", 200)})
}

func instantsAreUTCToTheMillisecond(t *testing.T, s Store) {
	anchorage, err := time.LoadLocation("America/Anchorage")
	if err != nil {
		t.Fatal(err)
	}
	first := time.Date(2026, 11, 1, 1, 30, 0, 123_999_999, anchorage) // 01:30 comes twice that day
	again := first.Add(time.Hour)
	early := time.Date(1969, 12, 31, 23, 59, 59, 999_000_000, time.UTC)
	record(t, s, batch(reading("first", first, 1), reading("again", again, 2), reading("early", early, 3)))
	var got []string
	for _, r := range plantRows(t, s, plant, late).Readings {
		got = append(got, r.Key+" "+r.At.Format(time.RFC3339Nano)+" "+r.At.Location().String())
	}
	same(t, "instants", got, []string{
		"early 1969-12-31T23:59:59.999Z UTC",
		"first 2026-11-01T09:30:00.123Z UTC",
		"again 2026-11-01T10:30:00.123Z UTC",
	})
}

func oneInstantFromTwoZonesIsOneRow(t *testing.T, s Store) {
	there := noon.In(time.FixedZone("", -9*3600))
	record(t, s, batch(reading("k", noon, 1)))
	done := record(t, s, batch(reading("k", there, 1), reading("k", noon.Add(time.Microsecond), 1)))
	same(t, "counts", done, inventory.Recorded{Known: 2})
	if there.Location() == time.UTC {
		t.Error("the caller's row was changed")
	}
}

// rowsInAnyOrderComeBackInOrder writes random rows in random order and compares them with the same rows
// sorted here.
func rowsInAnyOrderComeBackInOrder(t *testing.T, s Store) {
	trial := 0
	rapid.Check(t, func(r *rapid.T) {
		trial++
		name := fmt.Sprintf("plant %d", trial)
		want := randomRows(r, name)
		var records []inventory.Record
		for record := range want.All() {
			records = append(records, record)
		}
		records = rapid.Permutation(records).Draw(r, "order")
		if _, err := s.Record(t.Context(), batch(records...), recordedAt); err != nil {
			r.Fatalf("Record: %v", err)
		}
		got, err := s.PlantRows(t.Context(), name, late)
		if err != nil {
			r.Fatalf("PlantRows: %v", err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			r.Fatalf("rows (-want +got):\n%s", diff)
		}
	})
}

// randomRows draws rows of three kinds in the order that the contract promises. Few distinct times make
// many rows share one.
func randomRows(r *rapid.T, name string) inventory.Rows {
	var rows inventory.Rows
	number := rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64)
	celsius := rapid.Custom(func(r *rapid.T) units.Celsius { return units.Celsius(number.Draw(r, "temperature")) })
	for i := range rapid.IntRange(0, 8).Draw(r, "rows") {
		e := inventory.Entry{Key: name + " " + rapid.StringMatching(`[a-zA-Z é_%?$]{0,6}`).Draw(r, "key") + fmt.Sprint(i)}
		at := noon.Add(time.Duration(rapid.IntRange(-2, 2).Draw(r, "time")) * time.Millisecond)
		day := calendar.Date(2026, 1, rapid.IntRange(1, 3).Draw(r, "day"))
		temperature := rapid.Ptr(celsius, true).Draw(r, "temperature")
		volume := units.Litres(number.Draw(r, "volume"))
		switch rapid.IntRange(0, 2).Draw(r, "kind") {
		case 0:
			rows.Add(&inventory.MeterReading{Entry: e, Plant: name, Meter: "m", At: at, Register: float64(volume), Temperature: temperature})
		case 1:
			rows.Add(&inventory.Delivery{Entry: e, Plant: name, At: at, Measure: inventory.Measure{Volume: volume, Temperature: temperature}})
		default:
			rows.Add(&inventory.PeriodTotal{Entry: e, Plant: name, FirstDay: day, LastDay: day, Measure: inventory.Measure{Volume: volume}})
		}
	}
	slices.SortFunc(rows.Readings, func(a, b *inventory.MeterReading) int { return inOrder(a.At, b.At, a.Key, b.Key) })
	slices.SortFunc(rows.Deliveries, func(a, b *inventory.Delivery) int { return inOrder(a.At, b.At, a.Key, b.Key) })
	slices.SortFunc(rows.Totals, func(a, b *inventory.PeriodTotal) int {
		return inOrder(time.Unix(int64(a.LastDay), 0), time.Unix(int64(b.LastDay), 0), a.Key, b.Key)
	})
	return rows
}
