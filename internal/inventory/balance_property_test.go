package inventory

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"overwinter/internal/units"
)

// moves draws any sequence of transfers between four tanks, of which every drop stays in one of them, and the gaugings
// before and after. Everything is confirmed, so that no plausibility stands between the rows and the balance.
func moves(t *rapid.T) Rows {
	held := map[string]float64{"a": 20_000, "b": 20_000, "mid": 3000, "day": 500}
	names := []string{"a", "b", "mid", "day"}
	rows := Rows{Readings: []*MeterReading{reading(at(time.March, 1, 8), 0)}}
	dip := func(when time.Time, key string) {
		for _, name := range names {
			g := gauged(name, when, units.Litres(held[name]))
			g.Key = key + name
			rows.Gaugings = append(rows.Gaugings, g)
			rows.Confirmations = append(rows.Confirmations, &Confirmation{Plant: "P", Of: KindGauging, Row: g.Key})
		}
	}
	dip(at(time.March, 1, 8), "open ")
	when := at(time.March, 1, 8)
	for i := range rapid.IntRange(0, 30).Draw(t, "transfers") {
		from := rapid.SampledFrom(names).Draw(t, "from")
		to := rapid.SampledFrom(slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == from })).Draw(t, "to")
		v := held[from] * rapid.Float64Range(0.001, 0.9).Draw(t, "share")
		held[from], held[to] = held[from]-v, held[to]+v
		when = when.Add(time.Duration(rapid.IntRange(1, 20).Draw(t, "hours")) * time.Hour)
		key := fmt.Sprint("t", i)
		rows.Transfers = append(rows.Transfers, &Transfer{Entry: Entry{Key: key}, Plant: "P", From: from, To: to, At: when, Measure: at15(units.Litres(v))})
		rows.Confirmations = append(rows.Confirmations, &Confirmation{Plant: "P", Of: KindTransfer, Row: key})
	}
	rows.Readings = append(rows.Readings, reading(at(time.March, 28, 8), rapid.Float64Range(0, 15_000).Draw(t, "metered")))
	for i, r := range rows.Readings {
		r.Key = fmt.Sprint("r", i)
		rows.Confirmations = append(rows.Confirmations, &Confirmation{Plant: "P", Of: KindReading, Row: r.Key})
	}
	dip(at(time.March, 28, 8), "shut ")
	return rows
}

func movesBalance(t interface{ Fatal(...any) }, rows Rows) Balance {
	dir := directoryOf(volumeTank("a", Storage, 200_000), volumeTank("b", Storage, 200_000), volumeTank("mid", Intermediate, 200_000), volumeTank("day", DayTank, 200_000))
	b, err := NewProductBook(dir, "P", "diesel-2-s15", rows, day(31))
	if err != nil {
		t.Fatal(err)
	}
	got, _ := b.Balance(time.Time{}, time.Time{})
	return got
}

// Whatever is moved between a plant's own tanks, its fuel is neither more nor less. In these rows the tanks are never
// drained by what the meter says it ran: so all of it, and nothing else, is what the balance finds too much.
func TestTransfersConserveMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := moves(t)
		got := movesBalance(t, rows)
		past := 0.0
		for _, m := range rows.Transfers {
			switch "day" {
			case m.To:
				past += float64(m.Volume)
			case m.From:
				past -= float64(m.Volume)
			}
		}
		if !near(float64(got.Physical), float64(got.Opening)) {
			t.Fatalf("the tanks held %v, then %v", got.Opening, got.Physical)
		}
		consumed := rows.Readings[1].Register + past - (float64(*rows.Gaugings[7].Volume) - 500)
		if !near(float64(got.Consumed), consumed) || math.Abs(float64(got.Moved)) > 1e-6 || math.Abs(float64(got.Variance)-consumed) > 1e-6 {
			t.Fatalf("consumed %v, want %v; moved %v; variance %v", got.Consumed, consumed, got.Moved, got.Variance)
		}
	})
}

func TestTheOrderOfRowsChangesNoBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := moves(t)
		want := movesBalance(t, rows)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		mixed := Rows{Readings: mix(r, rows.Readings), Gaugings: mix(r, rows.Gaugings), Transfers: mix(r, rows.Transfers), Confirmations: mix(r, rows.Confirmations)}
		if got := movesBalance(t, mixed); got != want {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
}

func mix[T any](r *rand.Rand, rows []T) []T {
	mixed := slices.Clone(rows)
	r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	return mixed
}

func TestACorrectionAndItsReversalRestoreEveryFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := moves(t)
		if len(rows.Transfers) == 0 {
			return
		}
		want := movesBalance(t, rows)
		i := rapid.IntRange(0, len(rows.Transfers)-1).Draw(t, "which")
		put := func(key, replaces string, v units.Litres) Rows {
			changed := *rows.Transfers[i]
			changed.Key, changed.Replaces, changed.Volume = key, replaces, v
			r := rows
			r.Transfers = slices.Clone(rows.Transfers)
			r.Transfers[i] = &changed
			r.Confirmations = append(slices.Clone(rows.Confirmations), &Confirmation{Plant: "P", Of: KindTransfer, Row: key})
			return r
		}
		original := rows.Transfers[i]
		wrong := movesBalance(t, put("c1", original.Key, original.Volume+1000))
		if pastDay := (original.From == "day") != (original.To == "day"); pastDay && near(float64(wrong.Consumed), float64(want.Consumed)) {
			t.Fatalf("a correction by 1 000 L past the meter changed nothing")
		}
		if got := movesBalance(t, put("c2", "c1", original.Volume)); got != want {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
}
