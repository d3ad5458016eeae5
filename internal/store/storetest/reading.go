package storetest

import (
	"cmp"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// inOrder compares by time, then key.
func inOrder(timeA, timeB time.Time, keyA, keyB string) int {
	return cmp.Or(timeA.Compare(timeB), cmp.Compare(keyA, keyB))
}

func anEmptyLedgerIsEmpty(t *testing.T, s Store) {
	same(t, "directory", directory(t, s), inventory.Rows{})
	same(t, "rows", plantRows(t, s, "nowhere", late), inventory.Rows{})
	same(t, "counts", record(t, s, inventory.Rows{}), inventory.Recorded{})
	advice, err := s.Advice(t.Context(), "nowhere")
	if err != nil || len(advice) != 0 {
		t.Errorf("Advice gives %v, %v: want none", advice, err)
	}
}

func rowsComeInOrderOfTimeThenKey(t *testing.T, s Store) {
	entry := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	hour := func(n int) time.Time { return noon.Add(time.Duration(n) * time.Hour) }
	first := calendar.Date(2026, 1, 1)
	record(t, s, batch(
		reading("b", hour(1), 1), reading("a", hour(1), 2), reading("B", hour(1), 3), reading("é", hour(1), 4),
		reading("c", hour(0), 5), reading("10", hour(2), 6), reading("9", hour(2), 7),
		// A total's time is its last day.
		&inventory.PeriodTotal{Entry: entry("y"), Plant: plant, FirstDay: first, LastDay: first + 30},
		&inventory.PeriodTotal{Entry: entry("x"), Plant: plant, FirstDay: first + 20, LastDay: first + 30},
		&inventory.PeriodTotal{Entry: entry("z"), Plant: plant, FirstDay: first + 5, LastDay: first + 6},
		// An order's time is the day of ordering.
		&inventory.Order{Entry: entry("q"), Plant: plant, ID: "1", OrderedOn: first + 1, Early: first + 2},
		&inventory.Order{Entry: entry("p"), Plant: plant, ID: "2", OrderedOn: first + 1, Early: first + 9},
		&inventory.Order{Entry: entry("r"), Plant: plant, ID: "3", OrderedOn: first, Early: first + 90},
	))
	same(t, "keys", keys(plantRows(t, s, plant, late)),
		[]string{"c", "B", "a", "b", "é", "10", "9", "z", "x", "y", "r", "p", "q"})
}

func theDirectoryIsInOrderOfPlantAndID(t *testing.T, s Store) {
	entry := func(key string) inventory.Entry { return inventory.Entry{Key: key} }
	record(t, s, batch(
		&inventory.Plant{Entry: entry("1"), ID: "b"}, &inventory.Plant{Entry: entry("2"), ID: "a"},
		&inventory.Route{Entry: entry("1"), ID: "s"}, &inventory.Route{Entry: entry("2"), ID: "r"},
		&inventory.Service{Entry: entry("1"), Plant: "b", Route: "r"}, &inventory.Service{Entry: entry("2"), Plant: "a", Route: "s"},
		&inventory.Service{Entry: entry("3"), Plant: "a", Route: "r"},
		&inventory.Window{Entry: entry("1"), Route: "r", Name: "spring", Year: 2027}, &inventory.Window{Entry: entry("2"), Route: "r", Name: "spring"},
		&inventory.Window{Entry: entry("3"), Route: "r", Name: "autumn"},
		&inventory.PastWindow{Entry: entry("1"), Route: "r", Name: "spring", Year: 2025},
		&inventory.PastWindow{Entry: entry("2"), Route: "r", Name: "spring", Year: 2024},
		&inventory.PastWindow{Entry: entry("3"), Route: "r", Name: "autumn", Year: 2025},
		&inventory.WindowLimit{Entry: entry("1"), Route: "r", Name: "spring", From: monthDay(time.October, 2), Cause: inventory.LimitTide},
		&inventory.WindowLimit{Entry: entry("2"), Route: "r", Name: "spring", From: monthDay(time.October, 2), Cause: inventory.LimitDraft},
		&inventory.WindowLimit{Entry: entry("3"), Route: "r", Name: "spring", From: monthDay(time.September, 30), Cause: inventory.LimitTide},
		&inventory.WindowLimit{Entry: entry("4"), Route: "r", Name: "autumn", From: monthDay(time.December, 1), Cause: inventory.LimitTide},
		&inventory.SpendingLimit{Entry: entry("1"), Plant: "b", Name: "bank"},
		&inventory.SpendingLimit{Entry: entry("2"), Plant: "a", Name: "bank", From: 20000},
		&inventory.SpendingLimit{Entry: entry("3"), Plant: "a", Name: "bank", From: 19000},
		&inventory.SpendingLimit{Entry: entry("4"), Plant: "a", Name: "allotment", From: 21000},
		&inventory.Tank{Entry: entry("1"), Plant: "b", ID: "1"}, &inventory.Tank{Entry: entry("2"), Plant: "a", ID: "2"},
		&inventory.Tank{Entry: entry("3"), Plant: "a", ID: "1"},
		&inventory.Meter{Entry: entry("1"), Plant: "b", ID: "1"}, &inventory.Meter{Entry: entry("2"), Plant: "a", ID: "1"},
	))
	rows := directory(t, s)
	for _, c := range []struct {
		kind string
		got  inventory.Rows
		want []string
	}{
		{"plants", inventory.Rows{Plants: rows.Plants}, []string{"2", "1"}},
		{"routes", inventory.Rows{Routes: rows.Routes}, []string{"2", "1"}},
		{"services", inventory.Rows{Services: rows.Services}, []string{"3", "2", "1"}},
		{"windows", inventory.Rows{Windows: rows.Windows}, []string{"3", "2", "1"}},
		{"past windows", inventory.Rows{PastWindows: rows.PastWindows}, []string{"3", "2", "1"}},
		{"window limits", inventory.Rows{WindowLimits: rows.WindowLimits}, []string{"4", "3", "2", "1"}},
		{"spending limits", inventory.Rows{SpendingLimits: rows.SpendingLimits}, []string{"4", "3", "2", "1"}},
		{"tanks", inventory.Rows{Tanks: rows.Tanks}, []string{"3", "2", "1"}},
		{"meters", inventory.Rows{Meters: rows.Meters}, []string{"2", "1"}},
	} {
		same(t, c.kind, keys(c.got), c.want)
	}
}

func monthDay(month time.Month, day int) inventory.MonthDay {
	return inventory.MonthDay{Month: month, Day: day}
}

func rowsEndBeforeTheGivenInstant(t *testing.T, s Store) {
	elsewhere := reading("elsewhere", noon, 1)
	elsewhere.Plant = "another"
	record(t, s, batch(reading("at", noon, 1), reading("before", noon.Add(-time.Millisecond), 2), elsewhere))
	for _, c := range []struct {
		before time.Time
		want   []string
	}{
		{noon.Add(-time.Millisecond), nil},
		{noon, []string{"before"}},
		{noon.Add(time.Nanosecond), []string{"before", "at"}},
		{noon.Add(time.Nanosecond).In(time.FixedZone("", 3600)), []string{"before", "at"}},
	} {
		same(t, c.before.String(), keys(plantRows(t, s, plant, c.before)), c.want)
	}
}

func dayRowsCountFromTheEndOfTheirLastDay(t *testing.T, s Store) {
	first, last := calendar.Date(2026, 1, 1), calendar.Date(2026, 1, 31)
	e := inventory.Entry{Key: "k"}
	record(t, s, batch(
		&inventory.PeriodTotal{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Draw{Entry: e, Plant: plant, FirstDay: first, LastDay: last},
		&inventory.Order{Entry: e, Plant: plant, ID: "o", OrderedOn: last + 300, Early: last + 400},
	))
	over := time.Date(2026, 2, 1, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		before time.Time
		want   int // an order is given whatever its dates
	}{
		{time.Date(-3, 1, 1, 0, 0, 0, 0, time.UTC), 1},
		{over.Add(-time.Millisecond), 1},
		{over, 3},
		{time.Date(20000, 1, 1, 0, 0, 0, 0, time.UTC), 3},
	} {
		rows := plantRows(t, s, plant, c.before)
		same(t, "rows before "+c.before.String(), rows.Len(), c.want)
	}
}

func idsDifferByCase(t *testing.T, s Store) {
	upper := reading("K", noon, 1)
	upper.Plant = "Kotlik"
	record(t, s, batch(reading("k", noon, 1), upper,
		&inventory.Plant{Entry: inventory.Entry{Key: "k"}, ID: "kotlik"}, &inventory.Plant{Entry: inventory.Entry{Key: "K"}, ID: "Kotlik"}))
	same(t, "plants", keys(directory(t, s)), []string{"K", "k"})
	same(t, "readings of kotlik", keys(plantRows(t, s, "kotlik", late)), []string{"k"})
	same(t, "readings of Kotlik", keys(plantRows(t, s, "Kotlik", late)), []string{"K"})
}
