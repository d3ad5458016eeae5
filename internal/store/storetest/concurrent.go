package storetest

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

const writers, batches = 8, 5

// atOnce runs writers side by side and gives their errors.
func atOnce(write func(writer int) error) []error {
	failed := make([]error, writers)
	var all sync.WaitGroup
	for i := range writers {
		all.Go(func() { failed[i] = write(i) })
	}
	all.Wait()
	return failed
}

// writersAtOnceLoseNothing has each writer add rows of its own and a row that all of them send.
func writersAtOnceLoseNothing(t *testing.T, s Store) {
	counts := make([]inventory.Recorded, writers)
	failed := atOnce(func(writer int) error {
		for n := range batches {
			rows := batch(
				reading(fmt.Sprintf("all %d", n), noon, float64(n)),
				reading(fmt.Sprintf("%d %d", writer, n), noon.Add(time.Duration(n)*time.Hour), 1))
			done, err := s.Record(t.Context(), rows, recordedAt)
			if err != nil {
				return err
			}
			counts[writer].New += done.New
			counts[writer].Known += done.Known
			if _, err := s.PlantRows(t.Context(), plant, late); err != nil {
				return err
			}
		}
		return nil
	})
	var total inventory.Recorded
	for i, err := range failed {
		if err != nil {
			t.Errorf("writer %d: %v", i, err)
		}
		total.New += counts[i].New
		total.Known += counts[i].Known
	}
	distinct := writers*batches + batches
	same(t, "counts", total, inventory.Recorded{New: distinct, Known: 2*writers*batches - distinct})
	rows := plantRows(t, s, plant, late)
	same(t, "rows", rows.Len(), distinct)
}

func ofRivalCorrectionsOneWins(t *testing.T, s Store) {
	record(t, s, batch(reading("a", noon, 0)))
	failed := atOnce(func(writer int) error {
		_, err := s.Record(t.Context(), batch(correction(fmt.Sprint("by ", writer), "a", float64(writer))), recordedAt)
		return err
	})
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
		} else if fault.KindOf(err) != fault.Conflict {
			t.Errorf("a rival failed otherwise than by conflict: %v", err)
		}
	}
	rows := plantRows(t, s, plant, late)
	if won != 1 || rows.Len() != 1 {
		t.Errorf("%d rivals won and %d rows are in force, want 1 and 1", won, rows.Len())
	}
}
