package storetest

import (
	"testing"

	"overwinter/internal/inventory"
)

func theLastCorrectionCounts(t *testing.T, s Store) {
	record(t, s, batch(reading("a", noon, 1), reading("z", noon, 9)))
	record(t, s, batch(correction("b", "a", 2)))
	record(t, s, batch(correction("c", "b", 3), correction("d", "c", 4)))
	same(t, "keys", keys(plantRows(t, s, plant, late)), []string{"d", "z"})
	done := record(t, s, batch(reading("a", noon, 1), correction("b", "a", 2), correction("d", "c", 4)))
	// What stands in the place of "b" has not come again.
	same(t, "counts of a second load", done, inventory.Recorded{Known: 3, NotInForce: []inventory.Superseded{{Kind: inventory.KindReading, Key: "b", By: "c"}}})
}

func correctionsInOneBatchMayStandInAnyOrder(t *testing.T, s Store) {
	rows := batch(correction("a", "m", 3), correction("m", "z", 2), reading("z", noon, 1))
	same(t, "counts", record(t, s, rows), inventory.Recorded{New: 3})
	same(t, "keys", keys(plantRows(t, s, plant, late)), []string{"a"})
}

func aVoidRowWithdraws(t *testing.T, s Store) {
	void := correction("v", "b", 2)
	void.Void = true
	record(t, s, batch(reading("a", noon, 1), correction("b", "a", 2), reading("z", noon, 9)))
	record(t, s, batch(void))
	same(t, "keys", keys(plantRows(t, s, plant, late)), []string{"z"})
	// A withdrawal was itself a mistake: a row that replaces it stands again.
	record(t, s, batch(correction("again", "v", 2)))
	same(t, "keys", keys(plantRows(t, s, plant, late)), []string{"again", "z"})
}

func aWithdrawnIdentityIsFree(t *testing.T, s Store) {
	meter := func(key, replaces string, void bool) *inventory.Meter {
		return &inventory.Meter{Entry: inventory.Entry{Key: key, Replaces: replaces, Void: void}, Plant: plant, ID: "m"}
	}
	record(t, s, batch(meter("a", "", false)))
	record(t, s, batch(meter("b", "a", true), meter("c", "", false)))
	record(t, s, batch(meter("d", "c", false)))
	same(t, "keys", keys(directory(t, s)), []string{"d"})
}
