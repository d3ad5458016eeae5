package intake

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// sending is a report and the rows that it should leave in the ledger.
type sending struct {
	send func(context.Context, *Desk) (Receipt, error)
	rows []string
}

// written writes a row down without its key.
func written(r inventory.Record) string {
	switch r := r.(type) {
	case *inventory.MeterReading:
		return fmt.Sprint("reading ", r.Meter, r.At.UTC(), r.Register)
	case *inventory.Gauging:
		return fmt.Sprint("gauging ", r.Tank, r.At.UTC(), *r.Depth)
	case *inventory.Delivery:
		return fmt.Sprint("delivery ", r.Tank, r.At.UTC(), r.Volume)
	case *inventory.Order:
		return fmt.Sprint("order ", r.ID, r.Volume)
	}
	entry := *r.Base()
	defer func() { *r.Base() = entry }()
	*r.Base() = inventory.Entry{}
	return fmt.Sprint(r.Kind(), " ", inventory.Digest(r))
}

func contents(rows inventory.Rows) []string {
	var all []string
	for r := range rows.All() {
		all = append(all, written(r))
	}
	slices.Sort(all)
	return all
}

// report makes the n-th report of some kind, with figures drawn from a source.
func someReport(kind, n int, figure float64) sending {
	key, at := fmt.Sprintf("key-%d", n), evening(n%50)
	depth, volume := units.Millimetres(figure), inventory.Measure{Volume: units.Litres(1 + figure), Basis: inventory.Basis15}
	switch kind {
	case 0:
		r := round(key, n%50, figure, figure/10)
		r.Tanks = []TankEntry{{Tank: "a", Depth: &depth}}
		return sending{
			func(ctx context.Context, d *Desk) (Receipt, error) { return d.Round(ctx, r) },
			[]string{
				written(&inventory.MeterReading{Meter: "one", At: at, Register: figure}),
				written(&inventory.MeterReading{Meter: "two", At: at, Register: figure / 10}),
				written(&inventory.Gauging{Tank: "a", At: at, Depth: &depth}),
			}}
	case 1:
		return sending{
			func(ctx context.Context, d *Desk) (Receipt, error) {
				return d.Gauging(ctx, report(key), at, TankEntry{Tank: "a", Depth: &depth})
			},
			[]string{written(&inventory.Gauging{Tank: "a", At: at, Depth: &depth})}}
	case 2:
		v := Delivery{Report: report(key), Measure: volume, Tank: "a", At: at}
		return sending{
			func(ctx context.Context, d *Desk) (Receipt, error) { return d.Delivery(ctx, v) },
			[]string{written(&inventory.Delivery{Tank: "a", At: at, Measure: volume})}}
	case 4, 5, 6, 7, 8, 9, 10, 11:
		row := func() Checked { return everyRow[kind-4](1 + math.Mod(figure, 900)) }
		return sending{
			func(ctx context.Context, d *Desk) (Receipt, error) {
				return d.Row(ctx, RowReport{Report: report(key), Row: row()})
			},
			[]string{written(row())}}
	default:
		o := anOrder(key, key)
		o.Measure = volume
		return sending{
			func(ctx context.Context, d *Desk) (Receipt, error) { return d.Order(ctx, o) },
			[]string{written(&inventory.Order{ID: key, Measure: volume})}}
	}
}

func wantedRows(all []sending) []string {
	var rows []string
	for _, s := range all {
		rows = append(rows, s.rows...)
	}
	slices.Sort(rows)
	return rows
}

func TestReportsInAnyOrderWithRepeatsLeaveOneLedger(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	usual := checks.Value.String()
	if err := checks.Value.Set(sequences); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = checks.Value.Set(usual) }() // it was set to this before
	rapid.Check(t, func(rt *rapid.T) {
		d, _ := newDesk(t)
		var all []sending
		for n := range rapid.IntRange(1, 8).Draw(rt, "reports") {
			kind := rapid.IntRange(0, 11).Draw(rt, "kind")
			all = append(all, someReport(kind, n, float64(rapid.IntRange(0, 4000).Draw(rt, "figure"))))
		}
		repeats := rapid.SliceOfN(rapid.IntRange(0, len(all)-1), 0, 8).Draw(rt, "repeats")
		sent := slices.Clone(all)
		for _, i := range repeats {
			sent = append(sent, all[i])
		}
		for _, s := range rapid.Permutation(sent).Draw(rt, "order") {
			if _, err := s.send(t.Context(), d); err != nil {
				rt.Fatal(err)
			}
		}
		if diff := cmp.Diff(wantedRows(all), contents(ledger(t, d))); diff != "" {
			rt.Fatal(diff)
		}
	})
}

// Ten senders on a poor network send the same reports, each in its own order and some of them twice.
func TestTenWritersLeaveAnExactLedger(t *testing.T) {
	d, _ := newDesk(t)
	random := rand.New(rand.NewPCG(1, 2))
	var all []sending
	for n := range 12 {
		all = append(all, someReport(n, n, float64(random.IntN(4000))))
	}
	var group sync.WaitGroup
	var mu sync.Mutex
	fresh := 0
	for writer := range 10 {
		group.Go(func() {
			random := rand.New(rand.NewPCG(3, uint64(writer)))
			for _, i := range append(random.Perm(len(all)), random.Perm(len(all))[:2]...) {
				got, err := all[i].send(context.Background(), d)
				if err != nil || got.New+got.Known != len(all[i].rows) {
					t.Errorf("report %d: %+v, %v", i, got, err)
				}
				mu.Lock()
				fresh += got.New
				mu.Unlock()
			}
		})
	}
	group.Wait()
	want := wantedRows(all)
	if diff := cmp.Diff(want, contents(ledger(t, d))); diff != "" || fresh != len(want) {
		t.Errorf("%d rows said to be new, want %d: %s", fresh, len(want), diff)
	}
}

func TestOfTwoRoundsUnderOneKeyOneIsWritten(t *testing.T) {
	alike := []Round{round("k", 0, 100, 50), round("k", 0, 100, 51)}
	alike[1].Tanks = []TankEntry{{Tank: "a", Depth: p(units.Millimetres(1200))}}
	disjoint := []Round{round("k", 0, 100, 50), {Report: report("k"), At: evening(40), Tanks: alike[1].Tanks}}
	for _, rounds := range [][]Round{alike, disjoint} {
		d, _ := newDesk(t)
		errs := make([]error, len(rounds))
		var group sync.WaitGroup
		for i := range rounds {
			instance := *d // each comes to another instance of the service
			group.Go(func() { _, errs[i] = instance.Round(context.Background(), rounds[i]) })
		}
		group.Wait()
		if (errs[0] == nil) == (errs[1] == nil) {
			t.Fatalf("%v and %v: want one written, one refused", errs[0], errs[1])
		}
		for i, err := range errs {
			if err != nil {
				refused(t, err, fault.Conflict)
			} else if n := ledgerLen(t, d); n != len(rounds[i].Meters)+len(rounds[i].Tanks) {
				t.Errorf("%d rows in the ledger", n)
			}
		}
	}
}

// Changes of one order race: each is written, or loses and is sent anew; none of them is lost, none
// counts twice.
func TestRacingChangesOfAnOrderAreOneChain(t *testing.T) {
	d, _ := newDesk(t)
	must(t)(d.Order(t.Context(), anOrder("k", "O")))
	states := []inventory.OrderState{inventory.InTransit, inventory.Received, inventory.Cancelled, inventory.Committed}
	var group sync.WaitGroup
	var mu sync.Mutex
	fresh := map[string]int{}
	for writer := range 8 { // each change is sent by two
		group.Go(func() {
			c := change(fmt.Sprint("change-", writer%4), states[writer%4])
			for {
				got, err := d.ChangeOrder(context.Background(), c)
				if fault.KindOf(err) == fault.Conflict && err != nil {
					continue
				}
				mu.Lock()
				defer mu.Unlock()
				if fresh[c.Key] += got.New; err != nil || got.New+got.Known != 1 {
					t.Errorf("%s: %+v, %v", c.Key, got, err)
				}
				return
			}
		})
	}
	group.Wait()
	if diff := cmp.Diff(map[string]int{"change-0": 1, "change-1": 1, "change-2": 1, "change-3": 1}, fresh); diff != "" {
		t.Error(diff)
	}
	if n := len(ledger(t, d).Orders); n != 1 {
		t.Errorf("%d orders in force", n)
	}
}

func TestAKeyIsBoundedInLengthAndCharacters(t *testing.T) {
	for key, ok := range map[string]bool{
		"": false, "a": true, "0f9e-A_b.c:d": true, "with space": false, "slash/": false, "line\n": false, "ä": false,
		string(make([]byte, longestKey)): false,
	} {
		if got := checkKey(key) == ""; got != ok {
			t.Errorf("%q is taken: %v, want %v", key, got, ok)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.StringMatching(`[A-Za-z0-9_.:-]{1,120}`).Draw(t, "key")
		if got := checkKey(key) == ""; got != (len(key) <= longestKey) {
			t.Fatalf("a key of %d characters is taken: %v", len(key), got)
		}
	})
}

func TestIdsThatHoldTheSeparatorDoNotRunTogether(t *testing.T) {
	if a, b := rowKey("round", "a/b", "k", "c"), rowKey("round", "a", "b/k", "c"); a == b {
		t.Errorf("%s stands for both", a)
	}
}
