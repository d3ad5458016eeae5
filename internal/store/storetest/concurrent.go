package storetest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

const writers, batches = 10, 5

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

// requestsRepeatedAndReorderedCountOnce has writers send the same requests, each in an order of its own
// and some of them twice, as clients do that hear no answer. Some requests fail half-way: by a conflict
// in the last of their rows, or since the writer gives up. The ledger then holds each sound request once.
func requestsRepeatedAndReorderedCountOnce(t *testing.T, s Store) {
	record(t, s, batch(reading("taken", noon.Add(-time.Hour), 1)))
	const requests = 12
	sound := func(n int) bool { return n%4 != 0 }
	request := func(n int) inventory.Rows {
		at := noon.Add(time.Duration(n) * time.Minute)
		rows := batch(reading(fmt.Sprintf("%02d m", n), at, float64(n)),
			&inventory.Gauging{Entry: inventory.Entry{Key: fmt.Sprintf("%02d g", n)}, Plant: plant, Tank: "1", At: at})
		if !sound(n) {
			rows.Add(reading("taken", noon, 2)) // the key has other content
		}
		return rows
	}
	accepted := make([]inventory.Recorded, writers)
	failed := atOnce(func(writer int) error {
		random := rand.New(rand.NewPCG(uint64(writer), 1))
		for _, n := range append(random.Perm(requests), random.Perm(requests)[:requests/2]...) {
			if random.IntN(4) == 0 {
				abandon(t.Context(), s, request(n), random)
			}
			done, err := s.Record(t.Context(), request(n), recordedAt)
			if sound(n) != (err == nil) || err != nil && fault.KindOf(err) != fault.Conflict {
				return fmt.Errorf("request %d: %w", n, errors.Join(err, errors.New("not as it should end")))
			}
			accepted[writer].New += done.New
		}
		return nil
	})
	var written int
	for i, err := range failed {
		if err != nil {
			t.Errorf("writer %d: %v", i, err)
		}
		written += accepted[i].New
	}
	var readings, gaugings []string
	for n := range requests {
		if sound(n) {
			readings, gaugings = append(readings, fmt.Sprintf("%02d m", n)), append(gaugings, fmt.Sprintf("%02d g", n))
		}
	}
	same(t, "the ledger", keys(plantRows(t, s, plant, late)), slices.Concat([]string{"taken"}, readings, gaugings))
	if written > 2*len(readings) { // what an abandoned request wrote was told to nobody
		t.Errorf("%d rows were said to be new, want %d at most", written, 2*len(readings))
	}
}

// abandon sends a request and gives up at some moment.
func abandon(ctx context.Context, s Store, rows inventory.Rows, random *rand.Rand) {
	ctx, cancel := context.WithTimeout(ctx, time.Duration(random.IntN(3_000))*time.Microsecond)
	defer cancel()
	_, _ = s.Record(ctx, rows, recordedAt) // whether it came through is not known to who gives up
}
