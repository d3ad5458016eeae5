package intake

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
	"overwinter/internal/units"
)

// now is the evening of 2 March 2026 at the plant.
var now = time.Date(2026, time.March, 3, 6, 0, 0, 0, time.UTC)

func p[T any](v T) *T { return &v }

// plantRows is a plant with two meters, a standing tank and one that is known by its volume alone.
func plantRows() inventory.Rows {
	e := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	return inventory.Rows{
		Plants: []*inventory.Plant{{Entry: e("bay"), ID: "bay", Name: "Bay", Zone: "America/Anchorage", Product: "diesel-1-s15"}},
		Tanks: []*inventory.Tank{
			{Entry: e("a"), Plant: "bay", ID: "a", Role: inventory.Storage, Product: "diesel-1-s15", Shape: inventory.ShapeVertical,
				Diameter: p(units.Millimetres(3000)), Height: p(units.Millimetres(4000))},
			{Entry: e("d"), Plant: "bay", ID: "d", Role: inventory.DayTank, Product: "diesel-1-s15", Shape: inventory.ShapeVolume, Capacity: p(units.Litres(150))},
		},
		Meters: []*inventory.Meter{
			{Entry: e("one"), Plant: "bay", ID: "one", Digits: 6, LitresPerCount: 1, Compensated: true},
			{Entry: e("two"), Plant: "bay", ID: "two", LitresPerCount: 10, Compensated: true},
		},
		Routes:   []*inventory.Route{{Entry: e("river"), ID: "river", Mode: inventory.Barge}, {Entry: e("road"), ID: "road", Mode: inventory.WinterRoad}},
		Services: []*inventory.Service{{Entry: e("river-bay"), Route: "river", Plant: "bay"}},
	}
}

// refresher counts how often a plant was to be advised anew, and fails as long as it is told to. What it
// puts in force says nothing.
type refresher struct {
	sync.Mutex
	db    *store.DB
	calls int
	err   error
	ended bool // a call came with a context that was over already
}

func (r *refresher) Refresh(ctx context.Context, plant string) error {
	r.Lock()
	defer r.Unlock()
	r.calls++
	r.ended = r.ended || ctx.Err() != nil
	if r.err != nil {
		return r.err
	}
	version, err := r.db.Version(ctx)
	if err != nil {
		return err
	}
	return r.db.SaveAdvice(ctx, inventory.Issued{
		Plant: plant, InputsVersion: fmt.Sprint(version), Seed: seed, IssuedAt: now, Body: []byte(`{}`), Ledger: version,
	})
}

// seed is that of the advice in force.
const seed = 1

// fail lets the coming calls fail, or not.
func (r *refresher) fail(err error) {
	r.Lock()
	defer r.Unlock()
	r.err = err
}

// newDesk makes a desk on a ledger of its own, in SQLite.
func newDesk(t testing.TB) (*Desk, *refresher) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ledger.db")
	fresh, err := freshLedger()
	if err == nil {
		err = os.WriteFile(path, fresh, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	db, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	r := &refresher{db: db}
	return &Desk{Ledger: db, Refresh: r, Advice: advice.NewDesk(db, seed), Clock: calendar.At(now)}, r
}

// freshLedger makes the file of a ledger that holds the plant alone, once for all tests.
var freshLedger = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "intake")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	path := filepath.Join(dir, "ledger.db")
	db, err := store.Open(context.Background(), path)
	if err != nil {
		return nil, err
	}
	if _, err := db.Record(context.Background(), plantRows(), now); err != nil {
		return nil, err
	}
	if err := db.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

func report(key string) Report { return Report{Key: key, Plant: "bay", Who: "A. Operator"} }

// evening is 20:00 at the plant, so many days before the newest.
func evening(daysAgo int) time.Time {
	return time.Date(2026, time.March, 3, 5, 0, 0, 0, time.UTC).AddDate(0, 0, -daysAgo)
}

func round(key string, daysAgo int, one, two float64) Round {
	return Round{Report: report(key), At: evening(daysAgo), Meters: []MeterEntry{{Meter: "one", Register: one}, {Meter: "two", Register: two}}}
}

// must takes a report that is expected to be written or known.
func must(t testing.TB) func(Receipt, error) Receipt {
	return func(r Receipt, err error) Receipt {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

// refused checks that an error is of a kind, and gives the fields that it names.
func refused(t testing.TB, err error, kind fault.Kind) []string {
	t.Helper()
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != kind {
		t.Fatalf("got %v, want a fault that is %v", err, kind)
	}
	var fields []string
	for _, one := range f.Fields {
		fields = append(fields, one.Where)
	}
	return fields
}

// ledger gives the plant's rows in force.
func ledger(t testing.TB, d *Desk) inventory.Rows {
	t.Helper()
	rows, err := d.Ledger.PlantRows(context.Background(), "bay", now.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func codes(r Receipt) []string {
	var found []string
	for _, n := range r.Notices {
		found = append(found, n.Code)
	}
	slices.Sort(found)
	return found
}
