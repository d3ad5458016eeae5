package storetest

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

const seed = 7

// march1 is the day that the advice of these checks is for, where nothing else is said.
var march1 = calendar.Date(2026, 3, 1)

// adviceFor is advice for a plant from certain inputs, issued some hours after noon.
func adviceFor(plant, inputs string, day calendar.Day, hour int) inventory.Issued {
	a := issued(day, hour, "1", inputs, seed)
	a.Plant = plant
	a.Body = []byte(`{"inputs": "` + inputs + `"}`)
	return a
}

// inForce gives the advice in force after a revision, and checks that the highest revision fits it.
func inForce(t *testing.T, s Store, seed uint64, after int64) []inventory.Current {
	t.Helper()
	all, err := s.CurrentAdvice(t.Context(), seed, after)
	if err != nil {
		t.Fatalf("CurrentAdvice: %v", err)
	}
	highest, err := s.AdviceRevision(t.Context(), seed)
	if err != nil {
		t.Fatalf("AdviceRevision: %v", err)
	}
	last := after
	for _, c := range all {
		if c.Revision <= last {
			t.Errorf("revision %d comes after %d", c.Revision, last)
		}
		last = c.Revision
	}
	if len(all) > 0 && last != highest {
		t.Errorf("the highest revision is %d, want %d", highest, last)
	}
	if after == 0 {
		listedWithoutBodies(t, s, seed, issues(all))
	}
	return all
}

// listedWithoutBodies checks that the advice in force is listed in order of plant.
func listedWithoutBodies(t *testing.T, s Store, seed uint64, want []inventory.Issued) {
	t.Helper()
	listed, err := s.AdviceInForce(t.Context(), seed)
	if err != nil {
		t.Fatalf("AdviceInForce: %v", err)
	}
	for i := range want {
		want[i].Body = nil
	}
	slices.SortFunc(want, func(a, b inventory.Issued) int { return strings.Compare(a.Plant, b.Plant) })
	same(t, "listed", listed, want)
}

// issues takes the revisions off, which are the store's own.
func issues(all []inventory.Current) []inventory.Issued {
	var bare []inventory.Issued
	for _, c := range all {
		bare = append(bare, c.Issued)
	}
	return bare
}

func theAdviceSavedLastIsInForce(t *testing.T, s Store) {
	same(t, "at first", issues(inForce(t, s, seed, 0)), []inventory.Issued(nil))
	if revision, err := s.AdviceRevision(t.Context(), seed); err != nil || revision != 0 {
		t.Errorf("AdviceRevision of nothing gives %d, %v: want 0", revision, err)
	}
	first := adviceFor(plant, "a", march1, 0)
	save(t, s, first)
	same(t, "one", issues(inForce(t, s, seed, 0)), []inventory.Issued{first})

	later := adviceFor(plant, "b", march1, 1)
	nextDay := adviceFor(plant, "b", march1+1, -40) // issued before, by a clock that is slow
	earlierDay := adviceFor(plant, "b", march1, -50)
	earlierDay.Ledger = 2 // as where a plant's zone is corrected
	otherModel := earlierDay
	otherModel.ModelVersion = "0"
	onlyLater := otherModel // the same words, of a later ledger
	onlyLater.Ledger, onlyLater.IssuedAt = 5, first.IssuedAt
	for i, next := range []inventory.Issued{later, nextDay, earlierDay, otherModel, onlyLater} {
		revision, err := s.AdviceRevision(t.Context(), seed)
		if err != nil {
			t.Fatal(err)
		}
		save(t, s, next)
		if next.Ledger == 5 { // the words are those that were issued first
			next.Body = otherModel.Body
		}
		what := fmt.Sprintf("news %d", i)
		same(t, what, issues(inForce(t, s, seed, revision)), []inventory.Issued{next})
		same(t, what+" and all", issues(inForce(t, s, seed, 0)), []inventory.Issued{next})
	}
}

func adviceOnLessOfTheLedgerIsKeptAndNotPutInForce(t *testing.T, s Store) {
	current := adviceFor(plant, "a", march1, 5)
	current.Ledger = 8
	save(t, s, current)
	before := inForce(t, s, seed, 0)
	less, ofChoice := adviceFor(plant, "b", march1+3, 9), adviceFor(plant, "c", march1+2, 9)
	less.Ledger, ofChoice.Ledger = 7, 0
	save(t, s, less, ofChoice)
	same(t, "in force", inForce(t, s, seed, 0), before)
	same(t, "kept", advice(t, s), kept(less, ofChoice, current))

	for _, inputs := range []string{"d", "e", "d"} {
		other := adviceFor("other", inputs, march1, 0)
		other.Ledger = 0
		save(t, s, other)
		same(t, "in force where nothing else is", issues(inForce(t, s, seed, before[0].Revision)), []inventory.Issued{other})
	}
}

func adviceSavedAgainChangesNothing(t *testing.T, s Store) {
	first := adviceFor(plant, "a", march1, 0)
	save(t, s, first)
	before := inForce(t, s, seed, 0)
	again := adviceFor(plant, "a", march1, 3)
	again.Body = []byte(`{}`)
	save(t, s, again)
	same(t, "in force", inForce(t, s, seed, 0), before)
}

// A reading is entered and then withdrawn: the inputs are those of before.
func earlierAdviceComesInForceAgain(t *testing.T, s Store) {
	first, second := adviceFor(plant, "a", march1, 0), adviceFor(plant, "b", march1, 1)
	save(t, s, first, second)
	before := inForce(t, s, seed, 0)
	again := adviceFor(plant, "a", march1, 2)
	again.Body = []byte(`{"said": "otherwise"}`)
	save(t, s, again)

	want := first
	want.IssuedAt = again.IssuedAt // when it was last put in force; the words are the first ones
	news := inForce(t, s, seed, before[len(before)-1].Revision)
	same(t, "the news", issues(news), []inventory.Issued{want})
	same(t, "kept", advice(t, s), kept(second, first))
}

func plantsSeedsAndTheFleetAreApart(t *testing.T, s Store) {
	fleet := adviceFor("", "fleet", march1, 0)
	one, other := adviceFor("one", "x", march1+1, 0), adviceFor("other", "x", march1, 0)
	otherSeed := adviceFor("one", "x", march1, 0)
	otherSeed.Seed = math.MaxUint64
	save(t, s, other, fleet, otherSeed, one)
	same(t, "in the order in which they came into force", issues(inForce(t, s, seed, 0)), []inventory.Issued{other, fleet, one})
	same(t, "the other seed", issues(inForce(t, s, math.MaxUint64, 0)), []inventory.Issued{otherSeed})

	moved := adviceFor("other", "y", march1, 1)
	save(t, s, moved)
	same(t, "after one has moved", issues(inForce(t, s, seed, 0)), []inventory.Issued{fleet, one, moved})
}

// recentRowsLieBetweenTwoInstants has readings a millisecond to each side of both bounds.
func recentRowsLieBetweenTwoInstants(t *testing.T, s Store) {
	from, before := noon, noon.Add(48*time.Hour)
	tick := time.Millisecond
	record(t, s, batch(
		reading("too early", from.Add(-tick), 1), reading("first", from, 2), reading("also", from, 2),
		reading("last", before.Add(-tick), 3), reading("too late", before, 4)))
	for _, c := range []struct {
		from, before time.Time
		want         []string
	}{
		{from, before, []string{"also", "first", "last"}},
		{from.Add(time.Nanosecond), before.Add(time.Nanosecond), []string{"last", "too late"}},
		{from.In(time.FixedZone("", 3600)), from.Add(tick), []string{"also", "first"}},
		{before, from, nil},
	} {
		rows, err := s.RecentRows(t.Context(), plant, c.from, c.before)
		if err != nil {
			t.Fatalf("RecentRows: %v", err)
		}
		same(t, "rows from "+c.from.String(), keys(rows), c.want)
	}
}

// recentDayRowsCountByTheirLastDay reads from the end of a month on.
func recentDayRowsCountByTheirLastDay(t *testing.T, s Store) {
	first, last := calendar.Date(2026, 1, 1), calendar.Date(2026, 1, 31)
	e := inventory.Entry{Key: "k"}
	record(t, s, batch(
		&inventory.PeriodTotal{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Draw{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Order{Entry: e, Plant: plant, ID: "o", OrderedOn: first - 900, Early: first - 800},
	))
	over := time.Date(2026, 2, 1, 0, 0, 0, 0, time.UTC) // the last day's last millisecond is just before
	for _, c := range []struct {
		from, before time.Time
		want         int // an order is given whatever its dates
	}{
		{over.Add(-time.Millisecond), over, 3},
		{over.Add(-24 * time.Hour), late, 3},
		{over, late, 1},
		{over.AddDate(-1, 0, 0), over.Add(-time.Millisecond), 1},
		{late, late, 1},
	} {
		rows, err := s.RecentRows(t.Context(), plant, c.from, c.before)
		if err != nil {
			t.Fatalf("RecentRows: %v", err)
		}
		same(t, "rows from "+c.from.String()+" before "+c.before.String(), rows.Len(), c.want)
	}
}
