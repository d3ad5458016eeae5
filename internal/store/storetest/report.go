package storetest

import (
	"errors"
	"fmt"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// send writes a report that must be accepted.
func send(t *testing.T, s Store, report inventory.Report, rows inventory.Rows) inventory.Recorded {
	t.Helper()
	done, err := s.RecordReport(t.Context(), report, rows, recordedAt)
	if err != nil {
		t.Fatalf("RecordReport: %v", err)
	}
	return done
}

// aReportSentAgainIsKnown also where its rows could not be written any more as they are.
func aReportSentAgainIsKnown(t *testing.T, s Store) {
	round := inventory.Report{Key: "round", Content: "a and b"}
	rows := batch(reading("a", noon, 1), reading("b", noon, 2))
	if known, err := s.Reported(t.Context(), round); known || err != nil {
		t.Errorf("before it is sent: %v, %v", known, err)
	}
	same(t, "the first time", send(t, s, round, rows), inventory.Recorded{New: 2})
	record(t, s, batch(correction("c", "a", 3)))
	same(t, "again", send(t, s, round, rows), inventory.Recorded{Known: 2, NotInForce: []inventory.Superseded{{Kind: inventory.KindReading, Key: "a", By: "c"}}})
	stale := batch(correction("d", "a", 4)) // what it would replace is replaced
	same(t, "again, made from a later ledger", send(t, s, round, stale), inventory.Recorded{Known: 1})
	if known, err := s.Reported(t.Context(), round); !known || err != nil {
		t.Errorf("once it was sent: %v, %v", known, err)
	}
	same(t, "in force", keys(plantRows(t, s, plant, late)), []string{"b", "c"})
}

func aKeyStandsForOneReport(t *testing.T, s Store) {
	send(t, s, inventory.Report{Key: "round", Content: "a"}, batch(reading("a", noon, 1)))
	other := inventory.Report{Key: "round", Content: "b"}
	_, err := s.RecordReport(t.Context(), other, batch(reading("b", noon, 1)), recordedAt)
	if fault.KindOf(err) != fault.Conflict || !errors.Is(err, inventory.ErrKeyTaken) {
		t.Errorf("RecordReport of other content: %v", err)
	}
	if _, err := s.Reported(t.Context(), other); fault.KindOf(err) != fault.Conflict || !errors.Is(err, inventory.ErrKeyTaken) {
		t.Errorf("Reported of other content: %v", err)
	}
	// A report that is refused leaves its key free.
	fails := inventory.Report{Key: "fails", Content: "c"}
	_, err = s.RecordReport(t.Context(), fails, batch(reading("c", noon, 1), reading("a", noon, 9)), recordedAt)
	if fault.KindOf(err) != fault.Conflict || errors.Is(err, inventory.ErrKeyTaken) {
		t.Errorf("RecordReport of a row whose key is used: %v", err)
	}
	same(t, "after the refusal", send(t, s, fails, batch(reading("c", noon, 1))), inventory.Recorded{New: 1})
	same(t, "the ledger", keys(plantRows(t, s, plant, late)), []string{"a", "c"})
}

// ofRivalReportsUnderOneKeyOneWins has writers send different rows under one key at once.
func ofRivalReportsUnderOneKeyOneWins(t *testing.T, s Store) {
	failed := atOnce(func(writer int) error {
		id := fmt.Sprint(writer)
		_, err := s.RecordReport(t.Context(), inventory.Report{Key: "round", Content: id}, batch(reading(id, noon, 1)), recordedAt)
		return err
	})
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
		} else if !errors.Is(err, inventory.ErrKeyTaken) {
			t.Errorf("a rival failed otherwise: %v", err)
		}
	}
	if rows := plantRows(t, s, plant, late); won != 1 || rows.Len() != 1 {
		t.Errorf("%d rivals won and %d rows are there, want 1 and 1", won, rows.Len())
	}
}

func changes(t *testing.T, s Store) map[string]int64 {
	t.Helper()
	all, err := s.Changes(t.Context())
	if err != nil {
		t.Fatalf("Changes: %v", err)
	}
	highest, err := s.Version(t.Context())
	if err != nil {
		t.Fatalf("Version: %v", err)
	}
	newest := int64(0)
	for _, version := range all {
		newest = max(newest, version)
	}
	if highest != newest {
		t.Errorf("the ledger is at version %d, its newest row at %d", highest, newest)
	}
	return all
}

func eachWriteOfNewRowsIsAVersion(t *testing.T, s Store) {
	same(t, "of an empty ledger", changes(t, s), map[string]int64{})
	record(t, s, batch(reading("a", noon, 1)))
	same(t, "after one write", changes(t, s), map[string]int64{plant: 1})
	record(t, s, batch(&inventory.Route{Entry: inventory.Entry{Key: "r"}, ID: "r"}))
	same(t, "after a route", changes(t, s), map[string]int64{plant: 1, "": 2})

	record(t, s, batch(reading("a", noon, 1)))
	if _, err := s.Record(t.Context(), batch(reading("n", noon, 1), reading("a", noon, 2)), recordedAt); err == nil {
		t.Error("a conflict is accepted")
	}
	if _, err := s.Rehearse(t.Context(), batch(reading("n", noon, 1)), recordedAt); err != nil {
		t.Errorf("Rehearse: %v", err)
	}
	same(t, "after known rows, a refusal and a rehearsal", changes(t, s), map[string]int64{plant: 1, "": 2})

	elsewhere := reading("e", noon, 1)
	elsewhere.Plant = "elsewhere"
	record(t, s, batch(correction("c", "a", 2), elsewhere, reading("a", noon, 1)))
	same(t, "after a correction and a row of another plant", changes(t, s), map[string]int64{plant: 3, "elsewhere": 3, "": 2})
}

func adviceCountsInWhatItsVersionHolds(t *testing.T, s Store) {
	counts := func(what string, want bool) {
		t.Helper()
		if got, err := s.CountsIn(t.Context(), seed, plant); got != want || err != nil {
			t.Errorf("%s: %v, %v, want %v", what, got, err, want)
		}
	}
	issue := func(ledger int64) {
		a := adviceFor(plant, fmt.Sprint(ledger), march1, 0)
		a.Ledger = ledger
		save(t, s, a)
	}
	record(t, s, batch(reading("a", noon, 1)))
	counts("before the first advice", false)
	issue(1)
	counts("after it", true)
	elsewhere := reading("e", noon, 1)
	elsewhere.Plant = "elsewhere"
	record(t, s, batch(elsewhere))
	counts("after a row of another plant", true)
	record(t, s, batch(&inventory.Route{Entry: inventory.Entry{Key: "r"}, ID: "r"}))
	counts("after a route", false)
	issue(3)
	counts("once it is counted in", true)
	record(t, s, batch(reading("b", noon, 2)))
	counts("after another reading", false)
	if other, err := s.CountsIn(t.Context(), seed+1, plant); other || err != nil {
		t.Errorf("for another seed: %v, %v", other, err)
	}
	issue(4)
	counts("in the end", true)
}
