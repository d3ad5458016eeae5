package storetest

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// aMomentStandsForTheLastVersionRecordedByThen also where two writes fall into one millisecond, and where a
// writer's clock is behind.
func aMomentStandsForTheLastVersionRecordedByThen(t *testing.T, s Store) {
	at := func(ms int) time.Time { return recordedAt.Add(time.Duration(ms) * time.Millisecond) }
	for i, ms := range []int{0, 5, 5, 3, 9} { // the fourth writer's clock is behind
		if _, err := s.Record(t.Context(), batch(reading(fmt.Sprint(i), noon, 1)), at(ms)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		ask  time.Time
		want inventory.LedgerVersion
	}{
		{at(-1), inventory.LedgerVersion{}},
		{at(0), inventory.LedgerVersion{Number: 1, RecordedAt: at(0)}},
		{at(4), inventory.LedgerVersion{Number: 1, RecordedAt: at(0)}},
		{at(5), inventory.LedgerVersion{Number: 4, RecordedAt: at(5)}},
		{at(5).Add(999 * time.Microsecond), inventory.LedgerVersion{Number: 4, RecordedAt: at(5)}},
		{late, inventory.LedgerVersion{Number: 5, RecordedAt: at(9)}},
	} {
		got, err := s.VersionAt(t.Context(), c.ask)
		if err != nil {
			t.Fatalf("VersionAt: %v", err)
		}
		same(t, "the version at "+c.ask.Format(time.RFC3339Nano), got, c.want)
	}
}

// whatWasReplacedLaterWasInForce for rows of every kind, and for a tank with its own capacity table.
func whatWasReplacedLaterWasInForce(t *testing.T, s Store) {
	record(t, s, batch(bare()...))
	record(t, s, batch(full()...))
	var voids []inventory.Record
	for _, r := range full() {
		r.Base().Key, r.Base().Replaces, r.Base().Void = "void", "full", true
		voids = append(voids, r)
	}
	record(t, s, batch(voids...))
	same(t, "at first", known(t, s, 0), inventory.Rows{})
	same(t, "after one write", known(t, s, 1), batch(bare()...))
	same(t, "after two", known(t, s, 2), batch(full()...))
	same(t, "after three", known(t, s, 3), inventory.Rows{})

	recent, err := s.AsKnown(1).RecentRows(t.Context(), plant, noon, noon.Add(time.Millisecond))
	if err != nil || len(recent.Readings) != 1 || recent.Readings[0].Key != "bare" {
		t.Errorf("RecentRows after one write: %v, %v", keys(recent), err)
	}
	for _, beyond := range []int64{4, -1} {
		if _, err := s.AsKnown(beyond).Directory(t.Context()); fault.KindOf(err) != fault.NotFound {
			t.Errorf("the directory at version %d: %v, want a fault of kind not found", beyond, err)
		}
	}
}

// known puts together what the directory and the sample plant's rows were at a version.
func known(t testing.TB, s Store, version int64) inventory.Rows {
	t.Helper()
	then := s.AsKnown(version)
	all, err := then.Directory(t.Context())
	if err != nil {
		t.Fatalf("Directory: %v", err)
	}
	rows, err := then.PlantRows(t.Context(), plant, late)
	if err != nil {
		t.Fatalf("PlantRows: %v", err)
	}
	for r := range rows.All() {
		all.Add(r)
	}
	return all
}

// asKnownEqualsTheLedgerOfTheEarlierRowsAlone writes rows, corrections and withdrawals of a plant, and those of
// the first few writes alone for a second plant, in one batch. The second plant as it is must be the first
// one as it was.
func asKnownEqualsTheLedgerOfTheEarlierRowsAlone(t *testing.T, s Store) {
	run := 0
	rapid.Check(t, func(r *rapid.T) {
		run++
		first, second := fmt.Sprintf("%d first", run), fmt.Sprintf("%d second", run)
		var writes [][]change
		var made story
		versions := []int64{version(t, s)}
		clock := recordedAt
		for range rapid.IntRange(1, 4).Draw(r, "writes") {
			write := made.next(r)
			clock = clock.Add(time.Duration(rapid.IntRange(-2, 2).Draw(r, "clock")) * time.Millisecond)
			if _, err := s.Record(t.Context(), rowsOf(first, write), clock); err != nil {
				r.Fatalf("Record: %v", err)
			}
			writes = append(writes, write)
			versions = append(versions, version(t, s))
		}
		upTo := rapid.IntRange(0, len(writes)).Draw(r, "known")
		earlier := rapid.Permutation(slices.Concat(writes[:upTo]...)).Draw(r, "order")
		if _, err := s.Record(t.Context(), rowsOf(second, earlier), clock); err != nil {
			r.Fatalf("Record: %v", err)
		}
		want := nameless(t, s, second)
		then := s.AsKnown(versions[upTo])
		if diff := cmp.Diff(want, nameless(t, then, first)); diff != "" {
			r.Fatalf("as known after %d of %d writes (-alone +known):\n%s", upTo, len(writes), diff)
		}
	})
}

func version(t testing.TB, s Store) int64 {
	t.Helper()
	v, err := s.Version(t.Context())
	if err != nil {
		t.Fatalf("Version: %v", err)
	}
	return v
}

// change is one row of a story: a reading, or a tank, which may replace or withdraw an earlier one of its kind.
type change struct {
	tank          bool
	key, replaces int // replaces is 0 for none
	void          bool
	value         float64
}

// story makes up rows that a ledger accepts.
type story struct {
	last  int
	heads []change // the rows that may be replaced
}

// next gives the rows of one write. A row may replace one of the same write.
func (s *story) next(r *rapid.T) []change {
	var write []change
	for range rapid.IntRange(1, 4).Draw(r, "rows") {
		s.last++
		c := change{key: s.last, tank: rapid.Bool().Draw(r, "tank"), value: float64(rapid.IntRange(1, 9).Draw(r, "value"))}
		if len(s.heads) > 0 && rapid.Bool().Draw(r, "correction") {
			i := rapid.IntRange(0, len(s.heads)-1).Draw(r, "replaces")
			c.tank, c.replaces, c.void = s.heads[i].tank, s.heads[i].key, rapid.Bool().Draw(r, "void")
			s.heads = slices.Delete(s.heads, i, i+1)
		}
		s.heads = append(s.heads, c)
		write = append(write, c)
	}
	return write
}

// rowsOf makes the rows of a plant.
func rowsOf(plant string, changes []change) inventory.Rows {
	key := func(n int) string { return fmt.Sprintf("%s %03d", plant, n) }
	var rows inventory.Rows
	for _, c := range changes {
		e := inventory.Entry{Key: key(c.key), Void: c.void}
		if c.replaces > 0 {
			e.Replaces = key(c.replaces)
		}
		if c.tank {
			top := units.Litres(c.value)
			rows.Add(&inventory.Tank{Entry: e, Plant: plant, ID: fmt.Sprint(c.key), Table: []tanks.Point{{}, {Depth: 1, Volume: top}}})
		} else {
			rows.Add(&inventory.MeterReading{Entry: e, Plant: plant, Meter: "m", At: noon, Register: c.value})
		}
	}
	return rows
}

// nameless gives a plant's tanks and rows in force without its name.
func nameless(t testing.TB, s inventory.RowReader, plant string) inventory.Rows {
	t.Helper()
	directory, err := s.Directory(t.Context())
	if err != nil {
		t.Fatalf("Directory: %v", err)
	}
	rows, err := s.PlantRows(t.Context(), plant, late)
	if err != nil {
		t.Fatalf("PlantRows: %v", err)
	}
	for _, tank := range directory.Tanks {
		if tank.Plant == plant {
			rows.Add(tank)
		}
	}
	for _, r := range rows.Readings {
		r.Plant = ""
	}
	for _, tank := range rows.Tanks {
		tank.Plant = ""
	}
	for r := range rows.All() {
		e := r.Base()
		e.Key = e.Key[len(plant):]
		if e.Replaces != "" {
			e.Replaces = e.Replaces[len(plant):]
		}
	}
	return rows
}
