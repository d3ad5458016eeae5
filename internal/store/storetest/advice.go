package storetest

import (
	"math"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

func issued(day calendar.Day, hour int, model, inputs string, seed uint64) inventory.Issued {
	return inventory.Issued{
		Plant: plant, AsOf: day, ModelVersion: model, InputsVersion: inputs, Seed: seed,
		IssuedAt: noon.Add(time.Duration(hour) * time.Hour), Body: []byte(`{"b":  1.50, "a": "é"}`), Ledger: 1,
	}
}

func save(t *testing.T, s Store, all ...inventory.Issued) {
	t.Helper()
	for _, a := range all {
		if err := s.SaveAdvice(t.Context(), a); err != nil {
			t.Fatalf("SaveAdvice: %v", err)
		}
	}
}

// kept is advice as it is kept, without the version of the ledger.
func kept(all ...inventory.Issued) []inventory.Issued {
	for i := range all {
		all[i].Ledger = 0
	}
	return all
}

func advice(t *testing.T, s Store) []inventory.Issued {
	t.Helper()
	all, err := s.Advice(t.Context(), plant)
	if err != nil {
		t.Fatalf("Advice: %v", err)
	}
	return all
}

func adviceComesBackNewestFirst(t *testing.T, s Store) {
	day := calendar.Date(2026, 3, 1)
	newest := issued(day+1, 0, "1", "x", 0)
	again := issued(day, 5, "1", "y", 0)
	seeds := []inventory.Issued{issued(day, 1, "1", "x", 7), issued(day, 1, "1", "x", math.MaxUint64)}
	model := issued(day, 1, "2", "x", 7)
	oldest := issued(day-1, 9, "1", "x", 0)
	elsewhere := newest
	elsewhere.Plant = "another"
	save(t, s, seeds[0], oldest, elsewhere, model, newest, seeds[1], again)

	got := advice(t, s)
	// The two seeds have the same day and moment: they stand together, in the store's own order.
	if len(got) == 6 && got[2].Seed != 7 {
		got[2], got[3] = got[3], got[2]
	}
	same(t, "advice", got, kept(newest, again, seeds[0], seeds[1], model, oldest))
}

func adviceStaysAsIssued(t *testing.T, s Store) {
	first := issued(calendar.Date(2026, 3, 1), 0, "1", "x", 1<<63)
	second := first
	second.IssuedAt = first.IssuedAt.Add(time.Hour)
	second.Body = []byte(`{}`)
	save(t, s, first, second)
	same(t, "advice", advice(t, s), kept(first))
}

func adviceMustBeJSON(t *testing.T, s Store) {
	a := issued(calendar.Date(2026, 3, 1), 0, "1", "x", 1)
	for _, body := range []string{"", "{", "{\"a\":\"\xff\"}"} {
		a.Body = []byte(body)
		if err := s.SaveAdvice(t.Context(), a); fault.KindOf(err) != fault.Invalid {
			t.Errorf("SaveAdvice of %q: %v, want a fault of kind invalid", body, err)
		}
	}
	same(t, "advice", advice(t, s), []inventory.Issued(nil))
}
