package storetest

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// long is the length of a stream that no store takes at once.
const long = 11_000

// stream gives long readings; at some places other rows stand instead.
func stream(instead map[int]inventory.Record) inventory.Stream {
	return func(yield func(inventory.Record, error) bool) {
		for i := range long {
			row, other := instead[i]
			if !other {
				row = reading(nth(i), noon.Add(-time.Duration(i)*time.Minute), float64(i))
			}
			if !yield(row, nil) {
				return
			}
		}
	}
}

func nth(i int) string { return fmt.Sprintf("n%06d", i) }

// refusedStream writes a stream that must be refused whole, and gives the error.
func refusedStream(t *testing.T, s Store, rows inventory.Stream, want fault.Kind) *fault.Error {
	t.Helper()
	before, version := everything(t, s), ledgerVersion(t, s)
	done, err := s.RecordStream(t.Context(), rows, recordedAt)
	if err == nil || fault.KindOf(err) != want {
		t.Fatalf("RecordStream: %v, want a fault of kind %v", err, want)
	}
	same(t, "counts", done, inventory.Recorded{})
	same(t, "version", ledgerVersion(t, s), version)
	if diff := len(keys(everything(t, s))) - len(keys(before)); diff != 0 {
		t.Errorf("%d rows of the refused stream are there", diff)
	}
	return asFault(t, err)
}

func ledgerVersion(t *testing.T, s Store) int64 {
	t.Helper()
	v, err := s.Version(t.Context())
	if err != nil {
		t.Fatalf("Version: %v", err)
	}
	return v
}

// aLongStreamIsOneWrite whose rows have their places without a gap, and a second time nothing is new.
func aLongStreamIsOneWrite(t *testing.T, s Store) {
	record(t, s, batch(reading("before", noon, 1)))
	if done, err := s.RehearseStream(t.Context(), stream(nil), recordedAt); err != nil || !cmp.Equal(done, inventory.Recorded{New: long}) {
		t.Fatalf("RehearseStream: %+v, %v", done, err)
	}
	same(t, "rows after the rehearsal", keys(plantRows(t, s, plant, late)), []string{"before"})
	for _, want := range []inventory.Recorded{{New: long}, {Known: long}} {
		done, err := s.RecordStream(t.Context(), stream(nil), recordedAt)
		if err != nil {
			t.Fatalf("RecordStream: %v", err)
		}
		same(t, "counts", done, want)
		same(t, "version", ledgerVersion(t, s), int64(2))
	}
	written := pages(t, s, 0, 5_000)
	for i, w := range written {
		if w.Position != int64(i+1) {
			t.Fatalf("the row %d has the place %d", i+1, w.Position)
		}
	}
	same(t, "rows written", len(written), long+1)
}

func aConflictDeepInAStreamGivesAllOfItUp(t *testing.T, s Store) {
	record(t, s, batch(reading("a", noon, 1)))
	err := refusedStream(t, s, stream(map[int]inventory.Record{long - 5: reading("a", noon, 2)}), fault.Conflict)
	same(t, "named", err.Fields, []fault.Field{{Where: "meter reading a",
		Message: "the key is already used with other content: send a correction with its own key that replaces it"}})
}

func aKeyFarApartInAStreamIsOneRowOrAConflict(t *testing.T, s Store) {
	err := refusedStream(t, s, stream(map[int]inventory.Record{long - 5: reading(nth(3), noon, 99)}), fault.Conflict)
	same(t, "named", err.Fields, []fault.Field{{Where: "meter reading " + nth(3),
		Message: "the key is used twice with different content: give each row a key of its own"}})

	again := reading(nth(3), noon.Add(-3*time.Minute), 3)
	done, failed := s.RecordStream(t.Context(), stream(map[int]inventory.Record{long - 5: again}), recordedAt)
	if failed != nil {
		t.Fatalf("RecordStream: %v", failed)
	}
	same(t, "counts", done, inventory.Recorded{New: long - 1, Known: 1})
}

// correctionsFarApartInAStreamMayStandInAnyOrder as within a batch; so they are refused as within a batch.
func correctionsFarApartInAStreamMayStandInAnyOrder(t *testing.T, s Store) {
	const first, last = 2, long - 2
	elsewhere := reading("elsewhere", noon, 1)
	elsewhere.Plant = "another"
	for _, c := range []struct {
		name string
		rows map[int]inventory.Record
		want map[string]string // what is said of which row
	}{
		{"a ring", map[int]inventory.Record{first: correction("x", "y", 1), last: correction("y", "x", 1)},
			map[string]string{"x": "the row y replace each other", "y": "the row x replace each other"}},
		{"a row replaced twice", map[int]inventory.Record{first: correction("x", nth(9), 1), last: correction("y", nth(9), 1)},
			map[string]string{"y": "already replaced by x"}},
		{"a correction of one that is refused", map[int]inventory.Record{first: correction("x", nth(9), 1),
			last - 1: correction("y", nth(9), 1), last: correction("z", "y", 1)},
			map[string]string{"y": "already replaced by x"}},
		{"what is replaced is missing", map[int]inventory.Record{first: correction("x", "nothing", 1), last: correction("y", "x", 1)},
			map[string]string{"x": "nothing that it replaces is not in the ledger"}},
		{"what is replaced is of another plant", map[int]inventory.Record{first: correction("x", "elsewhere", 1), last: elsewhere},
			map[string]string{"x": "belongs to the plant another"}},
	} {
		err := refusedStream(t, s, stream(c.rows), fault.Conflict)
		if len(err.Fields) != len(c.want) {
			t.Errorf("%s: %q is told, want %q", c.name, err.Fields, c.want)
		}
		for key, says := range c.want {
			if !names(err.Fields, "meter reading "+key, says) {
				t.Errorf("%s: %q is told, want %s: ...%s...", c.name, err.Fields, key, says)
			}
		}
	}
	rows := map[int]inventory.Record{first: correction("x", "y", 3), long / 2: correction("y", nth(long-1), 2)}
	done, err := s.RecordStream(t.Context(), stream(rows), recordedAt)
	if err != nil || done.New != long {
		t.Fatalf("RecordStream: %+v, %v", done, err)
	}
	found := keys(plantRows(t, s, plant, late))
	if slices.Contains(found, "y") || slices.Contains(found, nth(long-1)) || !slices.Contains(found, "x") {
		t.Error("the last of two corrections is not the row in force")
	}
}

func anErrorOfAStreamGivesAllOfItUp(t *testing.T, s Store) {
	broken := fault.New(fault.Unavailable, "the source was changed")
	err := refusedStream(t, s, func(yield func(inventory.Record, error) bool) {
		for record := range stream(nil) {
			if record.Base().Key == nth(long-1) {
				yield(nil, broken)
				return
			}
			if !yield(record, nil) {
				return
			}
		}
	}, fault.Unavailable)
	if !errors.Is(err, broken) {
		t.Errorf("the stream fails with %v, want its own error", err)
	}
}

// whatCannotBeKeptIsToldBeforeConflicts wherever it stands.
func whatCannotBeKeptIsToldBeforeConflicts(t *testing.T, s Store) {
	record(t, s, batch(reading("a", noon, 1)))
	err := refusedStream(t, s, stream(map[int]inventory.Record{
		1: reading("a", noon, 2), 8_000: reading("b\x00", noon, 1), long - 1: reading("", noon, 1)}), fault.Invalid)
	if len(err.Fields) != 2 || !names(err.Fields, "meter reading b\x00, key", "zero bytes") || !names(err.Fields, "meter reading , key", "blank") {
		t.Errorf("%q is told", err.Fields)
	}
}

// manyConflictsAreNamedUpToABound so that a load of other rows under the same keys needs no more memory than a sound one.
func manyConflictsAreNamedUpToABound(t *testing.T, s Store) {
	if _, err := s.RecordStream(t.Context(), stream(nil), recordedAt); err != nil {
		t.Fatalf("RecordStream: %v", err)
	}
	others := func(yield func(inventory.Record, error) bool) {
		for record := range stream(nil) {
			record.(*inventory.MeterReading).Register++
			if !yield(record, nil) {
				return
			}
		}
	}
	err := refusedStream(t, s, others, fault.Conflict)
	if len(err.Fields) != 200 || !strings.Contains(err.Message, "there are more than the 200 that are named") {
		t.Errorf("%d conflicts are named, and it says %s", len(err.Fields), err.Message)
	}
}
