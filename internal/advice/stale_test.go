package advice_test

import (
	"math"
	"slices"
	"testing"

	"overwinter/internal/demo"
	"overwinter/internal/inventory"
)

// What a forecast is told beside readings makes advice that was issued without it stale: a load change for its plant, degree days
// for every plant of their group, also where what the others lend was kept from an earlier run.
func TestAdviceThatWasNotToldOfAChangeIsStale(t *testing.T) {
	l := newLedger(some(four...))
	a := adviser(l)
	fleet(t, a)
	group := map[string]string{}
	for _, p := range l.directory.Plants {
		group[p.ID] = p.Group
	}
	const told = "cape-orrin"
	more := 1.2
	before := plant(t, a, told)
	l.readSince()
	l.add(&inventory.LoadChange{Entry: inventory.Entry{Key: "load"}, Plant: told, From: demo.AsOf + 30, Times: &more, Cause: inventory.LoadConnected})
	changed := plant(t, a, told)
	if changed.InputsVersion == before.InputsVersion {
		t.Error("a load change leaves the inputs as they were")
	}
	if read := l.readSince(); !slices.Equal(read, []string{told}) {
		t.Errorf("%v are read after a load change", read)
	}
	l.add(&inventory.DegreeDays{Entry: inventory.Entry{Key: "cold"}, Group: group[told], FirstDay: demo.AsOf - 30, LastDay: demo.AsOf - 1, Sum: 700, Under: 18})
	due, err := a.Due(t.Context(), math.MaxInt64)
	if err != nil || len(due) != len(four) {
		t.Errorf("%v are due after degree days (%v)", due, err)
	}
	colder := plant(t, a, told)
	if colder.InputsVersion == changed.InputsVersion {
		t.Error("degree days leave the inputs as they were")
	}
	var mates []string
	for _, id := range four {
		if group[id] == group[told] {
			mates = append(mates, id)
		}
	}
	if read := l.readSince(); !slices.Equal(read, slices.Sorted(slices.Values(mates))) || len(mates) < 2 || len(mates) == len(four) {
		t.Errorf("%v are read after degree days of the group of %v", read, mates)
	}
	if again := plant(t, adviser(l), told); again.InputsVersion != colder.InputsVersion {
		t.Error("what was kept of the group is not what a fresh run reads")
	}
}
