package storetest

import (
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func loadChangesAreGivenWhateverTheirDates(t *testing.T, s Store) {
	change := func(key string, from calendar.Day) *inventory.LoadChange {
		return &inventory.LoadChange{Entry: inventory.Entry{Key: key}, Plant: plant, From: from, Times: p(1.1)}
	}
	elsewhere := change("elsewhere", march1)
	elsewhere.Plant = "another"
	record(t, s, batch(change("b", march1+400), change("a", march1+400), change("c", march1-4000), elsewhere))
	same(t, "keys", keys(plantRows(t, s, plant, noon)), []string{"c", "a", "b"})
	recent, err := s.RecentRows(t.Context(), plant, noon, noon.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "recent", keys(recent), []string{"c", "a", "b"})
}

// cold is degree days of a group under a base of 18 °C.
func cold(key, group string, first, last calendar.Day) *inventory.DegreeDays {
	return &inventory.DegreeDays{Entry: inventory.Entry{Key: key}, Group: group, FirstDay: first, LastDay: last, Sum: 30, Under: 18}
}

func degreeDaysAreThoseOfThePlantsGroup(t *testing.T, s Store) {
	inGroup := func(key, replaces, id, group string) *inventory.Plant {
		return &inventory.Plant{Entry: inventory.Entry{Key: key, Replaces: replaces}, ID: id, Group: group}
	}
	record(t, s, batch(inGroup("1", "", "east", "delta"), inGroup("2", "", "west", "delta"), inGroup("3", "", "alone", ""),
		cold("later", "delta", march1+1, march1+1), cold("hills", "hills", march1, march1), cold("none", "", march1, march1), cold("d", "delta", march1, march1)))
	for plant, want := range map[string][]string{"east": {"d", "later"}, "west": {"d", "later"}, "alone": {"none"}, "nowhere": nil} {
		same(t, plant, keys(plantRows(t, s, plant, late)), want)
	}
	over := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	same(t, "over by midnight", keys(plantRows(t, s, "east", over)), []string{"d"})
	same(t, "a moment before", keys(plantRows(t, s, "east", over.Add(-time.Millisecond))), []string(nil))

	moved := version(t, s)
	record(t, s, batch(inGroup("4", "1", "east", "hills")))
	same(t, "once the plant has moved", keys(plantRows(t, s, "east", late)), []string{"hills"})
	then, err := s.AsKnown(moved).PlantRows(t.Context(), "east", late)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "as known before", keys(then), []string{"d", "later"})
	changes, err := s.Changes(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	same(t, "the newest row of no plant", changes[""], moved)
}

func degreeDaysOfAGroupAreOneLine(t *testing.T, s Store) {
	record(t, s, batch(cold("jan", "delta", march1-59, march1-29), cold("feb", "delta", march1-28, march1-1), cold("other", "hills", march1-59, march1-1)))
	under := func(d *inventory.DegreeDays, base units.Celsius) *inventory.DegreeDays {
		d.Under = base
		return d
	}
	for _, c := range []struct {
		name  string
		rows  inventory.Rows
		where string
		says  string
	}{
		{"a day that is there", batch(cold("n", "delta", march1-1, march1)), "n", "the row feb has a day of the same group already"},
		{"inside a stretch that is there", batch(cold("n", "delta", march1-40, march1-40)), "n", "the row jan has a day"},
		{"around all that is there", batch(cold("n", "delta", march1-90, march1)), "n", "the row jan has a day"},
		{"the same stretch under another key", batch(cold("n", "delta", march1-59, march1-29)), "n", "the row jan has a day"},
		{"a day twice in a batch", batch(cold("n", "delta", march1, march1), cold("o", "delta", march1, march1+1)), "n", "the row o has a day"},
		{"another base after", batch(under(cold("n", "delta", march1, march1), 15.5)), "n", "the row feb of the same group has another base"},
		{"another base before", batch(under(cold("n", "delta", march1-60, march1-60), 15.5)), "n", "the row jan of the same group has another base"},
		{"two bases in a batch", batch(cold("n", "bay", march1, march1), under(cold("o", "bay", march1+1, march1+1), 18.1)), "n", "has another base"},
	} {
		t.Run(c.name, func(t *testing.T) {
			named := refused(t, s, c.rows, fault.Conflict)
			if len(named) != 1 || !names(named, "degree days "+c.where, c.says) {
				t.Errorf("named are %v, want the row %s: %s", named, c.where, c.says)
			}
		})
	}
	correction := cold("feb2", "delta", march1-28, march1-1)
	correction.Replaces = "feb"
	gone := &inventory.DegreeDays{Entry: inventory.Entry{Key: "gone", Replaces: "jan", Void: true}}
	record(t, s, batch(correction, gone, under(cold("rounded", "delta", march1-59, march1-29), 18.04)))
}
