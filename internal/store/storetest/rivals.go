package storetest

import (
	"fmt"
	"strings"
	"testing"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// ofRivalRowsUnderOneKeyOneWins has writers use one key for different content at once: the others are told
// which row it is, and nothing else of theirs is written.
func ofRivalRowsUnderOneKeyOneWins(t *testing.T, s Store) {
	failed := atOnce(func(writer int) error {
		_, err := s.Record(t.Context(), batch(reading("shared", noon, float64(writer)), reading(fmt.Sprint("of ", writer), noon, 1)), recordedAt)
		return err
	})
	winner := -1
	for writer, err := range failed {
		switch {
		case err == nil && winner >= 0:
			t.Errorf("the writers %d and %d both won", winner, writer)
		case err == nil:
			winner = writer
		case fault.KindOf(err) != fault.Conflict:
			t.Errorf("a rival failed otherwise than by conflict: %v", err)
		default:
			f := asFault(t, err).Fields
			if len(f) != 1 || f[0].Where != "meter reading shared" || !strings.Contains(f[0].Message, "other content") {
				t.Errorf("a rival is told %+v", f)
			}
		}
	}
	rows := plantRows(t, s, plant, late)
	if winner < 0 || len(rows.Readings) != 2 {
		t.Fatalf("writer %d won and %d rows are there, want 2", winner, len(rows.Readings))
	}
	for _, r := range rows.Readings {
		if r.Key == "shared" && r.Register != float64(winner) || r.Key != "shared" && r.Key != fmt.Sprint("of ", winner) {
			t.Errorf("writer %d won and the ledger holds %s = %g", winner, r.Key, r.Register)
		}
	}
}

// writersWhoseRowsCrossDoNotBlockEachOther has writers correct the same chains of rows, each beginning at
// another one. All of a chain comes from one writer or the next, never lost and never forked.
func writersWhoseRowsCrossDoNotBlockEachOther(t *testing.T, s Store) {
	const chains = 5
	head := func(chain int) string { return fmt.Sprintf("%d", chain) }
	for chain := range chains {
		record(t, s, batch(reading(head(chain), noon, 0)))
	}
	done := make([]int, writers)
	failed := atOnce(func(writer int) error {
		for n := range chains {
			one, two := (writer+n)%chains, (writer+2*n+1)%chains
			rows, err := s.PlantRows(t.Context(), plant, late)
			if err != nil {
				return err
			}
			var corrections []inventory.Record
			for _, r := range rows.Readings {
				chain := int(r.Key[0] - '0')
				if chain != one && chain != two {
					continue
				}
				next := correction(fmt.Sprintf("%d by %d at %d", chain, writer, n), r.Key, r.Register+1)
				corrections = append(corrections, next)
			}
			_, err = s.Record(t.Context(), batch(corrections...), recordedAt)
			switch {
			case err == nil:
				done[writer] += len(corrections)
			case fault.KindOf(err) != fault.Conflict:
				return err
			}
		}
		return nil
	})
	corrected := 0
	for writer, err := range failed {
		if err != nil {
			t.Errorf("writer %d: %v", writer, err)
		}
		corrected += done[writer]
	}
	sum := 0.0
	rows := plantRows(t, s, plant, late)
	for _, r := range rows.Readings {
		sum += r.Register
	}
	if len(rows.Readings) != chains || sum != float64(corrected) || corrected == 0 {
		t.Errorf("%d chains whose heads count %g corrections, want %d chains and the %d that were acknowledged", len(rows.Readings), sum, chains, corrected)
	}
}
