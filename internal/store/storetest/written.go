package storetest

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"overwinter/internal/inventory"
)

// pages reads all rows after a position, a page at a time.
func pages(t testing.TB, s Store, after int64, limit int) []inventory.Written {
	t.Helper()
	var all []inventory.Written
	for {
		page, err := s.RowsWritten(t.Context(), after, limit)
		if err != nil {
			t.Fatalf("RowsWritten: %v", err)
		}
		if len(page) > limit {
			t.Fatalf("a page of %d holds %d rows", limit, len(page))
		}
		if len(page) == 0 {
			return all
		}
		all = append(all, page...)
		after = page[len(page)-1].Position
	}
}

// rowsOfEveryKindAreFedInOrderOfWriting also those that are not in force, whatever the size of a page.
func rowsOfEveryKindAreFedInOrderOfWriting(t *testing.T, s Store) {
	same(t, "of an empty ledger", len(pages(t, s, 0, 1)), 0)
	record(t, s, batch(full()[0], bare()[0]))
	record(t, s, batch(full()[0], bare()[0])) // known
	record(t, s, batch(slices.Concat(bare(), full())...))
	all := pages(t, s, 0, 1_000)
	if want := len(bare()) + len(full()); len(all) != want {
		t.Fatalf("%d rows are fed, want %d", len(all), want)
	}
	seen := map[string]inventory.Written{}
	for i, w := range all {
		same(t, "position", w.Position, int64(i+1))
		seen[fmt.Sprint(w.Kind, w.Key)] = w
	}
	for i, r := range full() {
		e, of := r.Base(), r.PlantID()
		got := seen[fmt.Sprint(r.Kind(), e.Key)]
		same(t, "row", got, inventory.Written{Position: got.Position, Kind: r.Kind(), Key: "full", Plant: of, Replaces: "bare",
			Who: e.Who, Why: e.Why, RecordedAt: recordedAt})
		before := seen[fmt.Sprint(r.Kind(), "bare")]
		same(t, "row", before, inventory.Written{Position: before.Position, Kind: bare()[i].Kind(), Key: "bare", Plant: of, RecordedAt: recordedAt})
	}
	void := correction("void", "full", 0)
	void.Void = true
	record(t, s, batch(void))
	last := pages(t, s, int64(len(all)), 5)
	if len(last) != 1 || !last[0].Void || last[0].Replaces != "full" {
		t.Errorf("after a withdrawal: %+v", last)
	}
	all = append(all, last...)
	for _, limit := range []int{1, 2, 7} {
		same(t, fmt.Sprint("in pages of ", limit), pages(t, s, 0, limit), all)
	}
	same(t, "beyond the end", len(pages(t, s, 1_000, 1)), 0)
}

// whatIsFedWhileWritersWriteIsWhole follows the feed while writers add rows, are refused and give up.
func whatIsFedWhileWritersWriteIsWhole(t *testing.T, s Store) {
	record(t, s, batch(reading("taken", noon, 1)))
	followed := make(chan []inventory.Written)
	writing, stop := context.WithCancel(t.Context())
	var start sync.WaitGroup
	start.Add(1)
	go func() {
		start.Done()
		var all []inventory.Written
		defer func() { followed <- all }()
		after := int64(0)
		for last := false; ; {
			page, err := s.RowsWritten(t.Context(), after, 3)
			if err != nil {
				t.Errorf("RowsWritten: %v", err)
				return
			}
			if len(page) == 0 && last {
				return
			}
			if len(page) > 0 {
				all, after = append(all, page...), page[len(page)-1].Position
			}
			last = writing.Err() != nil // once all is written, the feed is read to its end
		}
	}()
	start.Wait()
	failed := atOnce(func(writer int) error {
		for n := range batches {
			id := fmt.Sprintf("%d %d", writer, n)
			rows := batch(reading(id, noon, 1), &inventory.Gauging{Entry: inventory.Entry{Key: id}, Plant: plant, Tank: "1", At: noon})
			if n%2 == 1 {
				rows.Add(reading("taken", noon, 2)) // refused as a whole
				_, _ = s.Record(t.Context(), rows, recordedAt)
				continue
			}
			if _, err := s.Rehearse(t.Context(), rows, recordedAt); err != nil {
				return err
			}
			if _, err := s.Record(t.Context(), rows, recordedAt); err != nil {
				return err
			}
		}
		return nil
	})
	stop()
	all := <-followed
	for writer, err := range failed {
		if err != nil {
			t.Errorf("writer %d: %v", writer, err)
		}
	}
	for i, w := range all {
		if w.Position != int64(i+1) {
			t.Fatalf("row %d of the feed has the position %d: one is missed or doubled", i+1, w.Position)
		}
	}
	same(t, "rows", len(all), 1+writers*2*((batches+1)/2))
	same(t, "what is read afterwards", pages(t, s, 0, 1_000), all)
}

// everyWriteSentTwiceChangesNothing replays rows, corrections and reports in an order of its own.
func everyWriteSentTwiceChangesNothing(t *testing.T, s Store) {
	run := 0
	rapid.Check(t, func(r *rapid.T) {
		run++
		name := fmt.Sprint("replay ", run)
		var made story
		var writes []func() (inventory.Recorded, error)
		for n := range rapid.IntRange(1, 4).Draw(r, "writes") {
			rows := rowsOf(name, made.next(r))
			write := func() (inventory.Recorded, error) { return s.Record(t.Context(), rows, recordedAt) }
			if rapid.Bool().Draw(r, "report") {
				report := inventory.Report{Key: fmt.Sprint(name, n), Content: "c"}
				write = func() (inventory.Recorded, error) { return s.RecordReport(t.Context(), report, rows, recordedAt) }
			}
			if done, err := write(); err != nil || done.New != rows.Len() {
				r.Fatalf("the first time: %+v, %v", done, err)
			}
			writes = append(writes, write)
		}
		before, at := nameless(t, s, name), version(t, s)
		for _, i := range rapid.Permutation(numbers(len(writes))).Draw(r, "order") {
			if done, err := writes[i](); err != nil || done.New != 0 {
				r.Fatalf("sent again: %+v, %v", done, err)
			}
		}
		same(t, "version", version(t, s), at)
		same(t, "rows", nameless(t, s, name), before)
	})
	last := pages(t, s, 0, 1_000)
	for i, w := range last {
		if w.Position != int64(i+1) {
			t.Fatalf("row %d of the feed has the position %d", i+1, w.Position)
		}
	}
}

func numbers(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}
