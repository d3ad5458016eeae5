package storetest

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func aSecondLoadChangesNothing(t *testing.T, s Store) {
	sample := append(bare(), full()...)
	record(t, s, batch(sample...))
	before := everything(t, s)
	again := append(bare(), full()...)
	for _, r := range again { // somebody else loads the same rows
		r.Base().Who, r.Base().Why = "B. Operator", "once more"
	}
	done := record(t, s, batch(append(again, reading("new", noon, 1), reading("new", noon, 1))...))
	same(t, "counts", done, inventory.Recorded{New: 1, Known: len(sample) + 1})
	after := everything(t, s)
	same(t, "the new row", keys(inventory.Rows{Readings: after.Readings}), []string{"full", "new"})
	after.Readings = after.Readings[:1]
	same(t, "rows", after, before)
}

func aRehearsalWritesNothing(t *testing.T, s Store) {
	record(t, s, batch(reading("a", noon, 1)))
	before := everything(t, s)
	done, err := s.Rehearse(t.Context(), batch(reading("a", noon, 1), reading("b", noon, 2)), recordedAt)
	if err != nil {
		t.Fatalf("Rehearse: %v", err)
	}
	same(t, "counts", done, inventory.Recorded{New: 1, Known: 1})
	if _, err := s.Rehearse(t.Context(), batch(reading("a", noon, 99)), recordedAt); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a conflict was rehearsed as %v", err)
	}
	same(t, "rows", everything(t, s), before)
}

// aKnownRowThatIsNotInForceIsTold unless the row in its place comes with it, in whatever order. "a" is replaced by "b", "c" is withdrawn by "d".
func aKnownRowThatIsNotInForceIsTold(t *testing.T, s Store) {
	withdrawal := correction("d", "c", 0)
	withdrawal.Void = true
	record(t, s, batch(reading("a", noon, 1), correction("b", "a", 2), reading("c", noon.Add(time.Hour), 3), withdrawal, reading("fine", noon.Add(2*time.Hour), 4)))
	replaced := inventory.Superseded{Kind: inventory.KindReading, Key: "a", By: "b"}
	withdrawn := inventory.Superseded{Kind: inventory.KindReading, Key: "c", By: "d", Withdrawn: true}
	before := everything(t, s)
	for _, c := range []struct {
		name string
		rows inventory.Rows
		want inventory.Recorded
	}{
		{"both alone", batch(reading("c", noon.Add(time.Hour), 3), reading("a", noon, 1), reading("fine", noon.Add(2*time.Hour), 4)),
			inventory.Recorded{Known: 3, NotInForce: []inventory.Superseded{replaced, withdrawn}}},
		{"one with what stands in its place", batch(correction("b", "a", 2), reading("a", noon, 1), reading("c", noon.Add(time.Hour), 3)),
			inventory.Recorded{Known: 3, NotInForce: []inventory.Superseded{withdrawn}}},
		{"what is in force", batch(correction("b", "a", 2), withdrawal), inventory.Recorded{Known: 2}},
	} {
		same(t, c.name, record(t, s, c.rows), c.want)
		rehearsed, err := s.Rehearse(t.Context(), c.rows, recordedAt)
		if err != nil {
			t.Fatalf("Rehearse: %v", err)
		}
		same(t, c.name+", rehearsed", rehearsed, c.want)
	}
	same(t, "rows", everything(t, s), before)
}

// conflictsAreRefused starts from the reading "a", replaced by "b", and the reading "c" of another plant.
func conflictsAreRefused(t *testing.T, s Store) {
	elsewhere := reading("c", noon, 1)
	elsewhere.Plant = "another"
	record(t, s, batch(reading("a", noon, 1), correction("b", "a", 2), elsewhere,
		&inventory.Gauging{Entry: inventory.Entry{Key: "gauging"}, Plant: plant, At: noon}))
	before := everything(t, s)
	withdrawal := func(key, replaces string) *inventory.MeterReading {
		r := correction(key, replaces, 0)
		r.Void = true
		return r
	}
	for _, c := range []struct {
		name  string
		rows  inventory.Rows
		where string // the row that is named
		says  string
	}{
		{"a key with other content", batch(reading("a", noon, 7)), "a", "send a correction"},
		{"a key with another time", batch(reading("a", noon.Add(time.Second), 1)), "a", "send a correction"},
		{"a key that replaced nothing before", batch(correction("a", "b", 1)), "a", "send a correction"},
		{"a key twice in a batch", batch(reading("n", noon, 1), reading("n", noon, 2)), "n", "twice"},
		{"the replaced row is missing", batch(correction("n", "nothing", 1)), "n", "nothing that it replaces is not in the ledger"},
		{"the replaced row is of another kind", batch(correction("n", "gauging", 1)), "n", "not in the ledger"},
		{"the replaced row is of another plant", batch(correction("n", "c", 1)), "n", "belongs to the plant another"},
		{"a row replaced already", batch(correction("n", "a", 1)), "n", "already replaced by b"},
		{"a row withdrawn after it was replaced", batch(withdrawal("n", "a")), "n", "already replaced by b"},
		{"a row replaced twice in a batch", batch(correction("n", "b", 1), correction("o", "b", 2)), "o", "already replaced by n"},
		{"a row that replaces itself", batch(correction("n", "n", 1)), "n", "replace each other"},
		{"rows that replace each other", batch(correction("n", "o", 1), correction("o", "n", 1)), "n", "replace each other"},
	} {
		t.Run(c.name, func(t *testing.T) {
			named := refused(t, s, c.rows, fault.Conflict)
			if !names(named, "meter reading "+c.where, c.says) {
				t.Errorf("the conflict names %q, want %s: ...%s...", named, c.where, c.says)
			}
			same(t, "rows", everything(t, s), before)
		})
	}
}

func names(fields []fault.Field, where, says string) bool {
	return slices.ContainsFunc(fields, func(f fault.Field) bool {
		return f.Where == where && strings.Contains(f.Message, says)
	})
}

func everyConflictIsNamed(t *testing.T, s Store) {
	gauging := func(depth units.Millimetres) *inventory.Gauging {
		return &inventory.Gauging{Entry: inventory.Entry{Key: "g"}, Plant: plant, Tank: "1", At: noon, Depth: &depth}
	}
	record(t, s, batch(reading("a", noon, 1), reading("b", noon, 2), gauging(10)))
	named := refused(t, s, batch(reading("a", noon, 7), reading("b", noon, 8), reading("fine", noon, 1),
		correction("lost", "nothing", 1), gauging(20)), fault.Conflict)
	var where []string
	for _, f := range named {
		where = append(where, f.Where)
	}
	slices.Sort(where)
	same(t, "named", where, []string{"gauging g", "meter reading a", "meter reading b", "meter reading lost"})
}

func oneIdentityHasOneRowInForce(t *testing.T, s Store) {
	record(t, s, batch(bare()...))
	before := everything(t, s)
	for _, r := range bare() {
		switch r.(type) {
		case *inventory.Plant, *inventory.Tank, *inventory.Meter, *inventory.Route, *inventory.Service, *inventory.Window, *inventory.PastWindow,
			*inventory.WindowLimit, *inventory.SpendingLimit, *inventory.Order, *inventory.Clearance:
			r.Base().Key = "another"
			named := refused(t, s, batch(r), fault.Conflict)
			if !names(named, string(r.Kind())+" another", "bare stands for the same "+string(r.Kind())) {
				t.Errorf("the conflict of a second %s names %q", r.Kind(), named)
			}
		}
	}
	two := batch(&inventory.Plant{Entry: inventory.Entry{Key: "x"}, ID: "new"}, &inventory.Plant{Entry: inventory.Entry{Key: "y"}, ID: "new"})
	refused(t, s, two, fault.Conflict)
	same(t, "rows", everything(t, s), before)

	other := batch( // a window of one year, another past year, a limit of another cause, one of another year, a tank of another plant, a route to another plant
		&inventory.Window{Entry: inventory.Entry{Key: "2027"}, Route: "river", Name: "summer", Year: 2027},
		&inventory.PastWindow{Entry: inventory.Entry{Key: "2024"}, Route: "river", Name: "summer", Year: 2024},
		&inventory.WindowLimit{Entry: inventory.Entry{Key: "tide"}, Route: "river", Name: "summer", Cause: inventory.LimitTide},
		&inventory.SpendingLimit{Entry: inventory.Entry{Key: "2027"}, Plant: plant, Name: "bank", From: calendar.Date(2027, 1, 1), Until: calendar.Date(2027, 1, 31)},
		&inventory.Tank{Entry: inventory.Entry{Key: "2"}, Plant: "another", ID: "1"},
		&inventory.Service{Entry: inventory.Entry{Key: "2"}, Plant: "another", Route: "river"})
	same(t, "counts", record(t, s, other), inventory.Recorded{New: 6})
}

func whatCannotBeKeptIsRefused(t *testing.T, s Store) {
	nan, inf := math.NaN(), math.Inf(-1)
	e := inventory.Entry{Key: "k"}
	year10000 := calendar.Date(10000, 1, 1)
	for _, c := range []struct {
		name  string
		row   inventory.Record
		field string
	}{
		{"NaN", reading("k", noon, nan), "register"},
		{"infinity", reading("k", noon, inf), "register"},
		{"NaN where a number may be left out", &inventory.Gauging{Entry: e, At: noon, Temperature: p(units.Celsius(nan))}, "temperature_c"},
		{"NaN within a measure", &inventory.Delivery{Entry: e, At: noon, Measure: inventory.Measure{Volume: units.Litres(nan)}}, "volume_l"},
		{"infinity in a capacity table", &inventory.Tank{Entry: e, Table: []tanks.Point{{}, {Depth: 1, Volume: units.Litres(inf)}}}, "capacity table, row 2"},
		{"a zero byte", &inventory.Delivery{Entry: e, At: noon, Document: "a\x00b"}, "document"},
		{"text that is not UTF-8", &inventory.Delivery{Entry: e, At: noon, Document: "a\xffb"}, "document"},
		{"an instant after the year 9999", reading("k", time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), 1), "at_ms"},
		{"a day after the year 9999", &inventory.Draw{Entry: e, LastDay: year10000}, "last_day"},
		{"an optional day after the year 9999", &inventory.Tank{Entry: e, BackOn: &year10000}, "back_on"},
		{"a blank key", reading("", noon, 1), "key"},
		{"a void row that withdraws nothing", &inventory.Draw{Entry: inventory.Entry{Key: "k", Void: true}}, "replaces"},
	} {
		t.Run(c.name, func(t *testing.T) {
			named := refused(t, s, batch(reading("fine", noon, 1), c.row), fault.Invalid)
			if want := string(c.row.Kind()) + " " + c.row.Base().Key + ", " + c.field; !names(named, want, "") {
				t.Errorf("the fault names %q, want %s", named, want)
			}
		})
	}
	same(t, "rows", everything(t, s), inventory.Rows{})
}

func aFailingBatchLeavesNothing(t *testing.T, s Store) {
	record(t, s, batch(&inventory.Order{Entry: inventory.Entry{Key: "o"}, Plant: plant, ID: "o"}))
	before := everything(t, s)
	rows := batch(append(full(), bare()...)...)
	rows.Orders = []*inventory.Order{{Entry: inventory.Entry{Key: "o"}, Plant: plant, ID: "other"}} // the last kind to be written
	refused(t, s, rows, fault.Conflict)
	same(t, "rows", everything(t, s), before)
	rows.Orders = nil
	same(t, "counts", record(t, s, rows), inventory.Recorded{New: rows.Len()})
}
