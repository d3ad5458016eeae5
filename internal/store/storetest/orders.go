package storetest

import (
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// stateOf is a row of an order's life.
func stateOf(key, replaces string, state inventory.OrderState) *inventory.Order {
	return &inventory.Order{Entry: inventory.Entry{Key: key, Replaces: replaces, Who: "desk"}, Plant: plant, ID: "o", State: state}
}

// everyStateOfAnOrderIsGiven in the order of writing, with the moment of each, whichever row is in force.
func everyStateOfAnOrderIsGiven(t *testing.T, s Store) {
	none, err := s.OrdersWritten(t.Context(), plant)
	if err != nil || len(none) != 0 {
		t.Fatalf("of an empty ledger: %v, %v", none, err)
	}
	elsewhere := stateOf("z", "", inventory.Proposed)
	elsewhere.Plant = "another"
	record(t, s, batch(stateOf("z1", "", inventory.Committed), elsewhere))
	later := recordedAt.Add(time.Hour)
	loaded := stateOf("a2", "z1", inventory.Loaded)
	loaded.StateAt = &noon
	for i, row := range []*inventory.Order{loaded, {Entry: inventory.Entry{Key: "m3", Replaces: "a2", Void: true}, Plant: plant, ID: "o"}} {
		if _, err := s.Record(t.Context(), batch(row), later.Add(time.Duration(i)*time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	written, err := s.OrdersWritten(t.Context(), plant)
	if err != nil {
		t.Fatal(err)
	}
	want := []inventory.OrderWritten{
		{Order: stateOf("z1", "", inventory.Committed), RecordedAt: recordedAt},
		{Order: loaded, RecordedAt: later},
		{Order: &inventory.Order{Entry: inventory.Entry{Key: "m3", Replaces: "a2", Void: true}, Plant: plant, ID: "o"}, RecordedAt: later.Add(time.Hour)},
	}
	same(t, "rows", written, want)
}

// clearancesOfAnOrderAreOneEach whatever their dates, in order of their keys.
func clearancesOfAnOrderAreOneEach(t *testing.T, s Store) {
	clearance := func(key, order, name string) *inventory.Clearance {
		return &inventory.Clearance{Entry: inventory.Entry{Key: key}, Plant: plant, Order: order, Name: name}
	}
	record(t, s, batch(clearance("b", "o", "credit"), clearance("a", "o", "permit"), clearance("c", "p", "credit")))
	same(t, "keys", keys(plantRows(t, s, plant, noon.AddDate(-50, 0, 0))), []string{"a", "b", "c"})
	named := refused(t, s, batch(clearance("d", "o", "credit")), fault.Conflict)
	if !names(named, "clearance b", "d stands for the same clearance") && !names(named, "clearance d", "b stands for the same clearance") {
		t.Errorf("named are %v", named)
	}
	given := clearance("d", "o", "credit")
	given.Replaces, given.ClearedOn = "b", &march1
	record(t, s, batch(given))
	same(t, "keys once it was given", keys(plantRows(t, s, plant, noon)), []string{"a", "c", "d"})
}
