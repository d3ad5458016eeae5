package inventory

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"overwinter/internal/calendar"
	"overwinter/internal/units"
)

// daily gives readings of meter M on every day from 1 January, 300 counts a day and a little more or less.
func daily(days int) []*MeterReading {
	var rows []*MeterReading
	register := 20_000.0
	for i := range days {
		r := reading(at(time.January, 1+i, 8), register)
		r.Key = "m" + r.At.Format("0102")
		rows = append(rows, r)
		register += 300 + float64(17*i%41) - 20
	}
	return rows
}

// weeklyDips gives gaugings of the storage tank "bulk" every week from 1 January, 2 100 L a week apart.
func weeklyDips(weeks int, from units.Litres) []*Gauging {
	var rows []*Gauging
	for i := range weeks {
		g := gauged("bulk", at(time.January, 1+7*i, 8), from-units.Litres(2100*i))
		g.Key = "g" + g.At.Format("0102")
		rows = append(rows, g)
	}
	return rows
}

type told struct {
	Key   string
	Cause Cause
	Scope Scope
}

func toldOf(b *Book) (all []told) {
	for _, d := range b.Doubtful() {
		all = append(all, told{d.Key, d.Cause, d.Scope})
	}
	return all
}

func TestAConfirmedRowCounts(t *testing.T) {
	rows := Rows{Totals: monthly()}
	rows.Totals[15].Volume *= 10
	before, _ := bookOf(t, rows).Usages()
	rows.Confirmations = []*Confirmation{{Plant: "P", Of: KindTotal, Row: "2025-04"}}
	b := bookOf(t, rows)
	after, _ := b.Usages()
	for _, d := range b.Doubtful() {
		if d.Scope == WholeRow {
			t.Errorf("still doubted: %+v", d)
		}
	}
	if len(before) != 23 || len(after) != 24 {
		t.Errorf("%d intervals before, %d after, want 23 and 24", len(before), len(after))
	}
	// Of another kind, of another key, or withdrawn, it confirms nothing.
	for _, c := range []*Confirmation{{Plant: "P", Of: KindDraw, Row: "2025-04"}, {Plant: "P", Of: KindTotal, Row: "2025-05"}, {Entry: Entry{Void: true}, Plant: "P", Of: KindTotal, Row: "2025-04"}} {
		rows.Confirmations = []*Confirmation{c}
		if u, _ := bookOf(t, rows).Usages(); len(u) != 23 {
			t.Errorf("%+v: %d intervals, want 23", c, len(u))
		}
	}
}

// Whatever slips there are and in whatever order the rows come, the same rows give the same doubts and the same usage.
func TestTheOrderOfArrivalChangesNeitherDoubtsNorUsage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := Rows{Readings: daily(60), Gaugings: weeklyDips(8, 40_000), Totals: monthly()}
		for range rapid.IntRange(0, 6).Draw(t, "slips") {
			r := rows.Readings[rapid.IntRange(0, 59).Draw(t, "reading")]
			r.Register = rapid.Float64Range(0, 99_999).Draw(t, "register")
			g := rows.Gaugings[rapid.IntRange(0, 7).Draw(t, "gauging")]
			g.Volume = ptr(units.Litres(rapid.Float64Range(0, 50_000).Draw(t, "volume")))
			total := rows.Totals[rapid.IntRange(0, 23).Draw(t, "total")]
			total.Volume = units.Litres(rapid.Float64Range(-10_000, 100_000).Draw(t, "total's volume"))
			key := string(rune('a' + rapid.IntRange(0, 9).Draw(t, "key")))
			rows.Deliveries = append(rows.Deliveries, &Delivery{Entry: Entry{Key: key + string(rune('0'+len(rows.Deliveries)))}, Plant: "P", Tank: "bulk",
				At: at(time.January, rapid.IntRange(1, 50).Draw(t, "day"), 12), Measure: at15(units.Litres(rapid.SampledFrom([]float64{3000, 12_000, 45_000}).Draw(t, "delivered")))})
		}
		other := Rows{Readings: slices.Clone(rows.Readings), Gaugings: slices.Clone(rows.Gaugings), Totals: slices.Clone(rows.Totals), Deliveries: slices.Clone(rows.Deliveries)}
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		random.Shuffle(len(other.Readings), func(i, j int) { other.Readings[i], other.Readings[j] = other.Readings[j], other.Readings[i] })
		random.Shuffle(len(other.Gaugings), func(i, j int) { other.Gaugings[i], other.Gaugings[j] = other.Gaugings[j], other.Gaugings[i] })
		random.Shuffle(len(other.Totals), func(i, j int) { other.Totals[i], other.Totals[j] = other.Totals[j], other.Totals[i] })
		random.Shuffle(len(other.Deliveries), func(i, j int) { other.Deliveries[i], other.Deliveries[j] = other.Deliveries[j], other.Deliveries[i] })
		a, b := openBook(t, rows), openBook(t, other)
		if diff := cmp.Diff(a.Doubtful(), b.Doubtful(), cmpopts.IgnoreUnexported(Doubt{})); diff != "" {
			t.Fatal(diff)
		}
		ua, _ := a.Usages()
		ub, _ := b.Usages()
		if diff := cmp.Diff(ua, ub); diff != "" {
			t.Fatal(diff)
		}
	})
}

func openBook(t *rapid.T, rows Rows) *Book {
	bulk := volumeTank("bulk", Storage, 50_000)
	d := NewDirectory(Rows{Plants: []*Plant{{ID: "P", Zone: "UTC", Product: "diesel-2-s15"}}, Tanks: []*Tank{bulk},
		Meters: []*Meter{{Plant: "P", ID: "M", Digits: 5, LitresPerCount: 1}}})
	b, err := NewBook(d, "P", rows, calendar.Date(2026, time.March, 31))
	if err != nil {
		t.Fatal(err)
	}
	return b
}
