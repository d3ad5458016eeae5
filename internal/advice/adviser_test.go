package advice_test

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// fewest futures are enough where only who is advised matters.
const fewest = 30

// Three plants of one climate group, the last of which borrows its season, and one of another.
var four = []string{"alder-slough", "cape-orrin", "tern-landing", "heron-point"}

func adviserOptions() advice.Options {
	o := options()
	o.Paths = fewest
	o.Price = advice.Price{PerLitre: 1.5, Currency: "USD"}
	return o
}

func adviser(l *ledger) *advice.Adviser {
	return advice.NewAdviser(l, adviserOptions(), calendar.At(demo.Now))
}

func fleet(t *testing.T, a *advice.Adviser) {
	t.Helper()
	if err := a.Fleet(context.Background()); err != nil {
		t.Fatal(err)
	}
}

func plant(t *testing.T, a *advice.Adviser, id string) advice.Plant {
	t.Helper()
	p, err := a.Plant(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func inForce(t *testing.T, l *ledger) *advice.InForce {
	t.Helper()
	f, err := advice.NewDesk(l, 1).InForce(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func text(t *testing.T, v any) string {
	t.Helper()
	body, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

// shown gives the ids of the plants in force.
func shown(f *advice.InForce) []string {
	var ids []string
	for _, p := range f.Plants {
		ids = append(ids, p.Plant)
	}
	slices.Sort(ids)
	return ids
}

// oneMoreDelivery changes the stock of a plant, and its usage where that follows from its gaugings.
func oneMoreDelivery(plant string, litres float64) *inventory.Delivery {
	return &inventory.Delivery{
		Entry: inventory.Entry{Key: "one more"}, Plant: plant, At: demo.Now.Add(-72 * time.Hour),
		Measure: inventory.Measure{Volume: units.Litres(litres), Basis: inventory.Basis15},
	}
}

// A plant alone, with nothing kept of the others, is advised to the byte as in a run of the whole fleet; with what the last
// run over the fleet taught, but for what the fleet has learned since.
func TestAPlantIsAdvisedAsInTheWholeFleet(t *testing.T) {
	ctx := context.Background()
	l := newLedger(demo.Generate(demo.DefaultSeed).InForce())
	warm := adviser(l)
	fleet(t, warm)
	changed := "heron-point" // without a meter: what it burned follows from its gaugings and deliveries
	before := text(t, plant(t, warm, changed))
	l.add(oneMoreDelivery(changed, 5000))
	if after := text(t, plant(t, warm, changed)); after == before {
		t.Fatal("a delivery changes nothing")
	}
	whole, err := advice.Advise(ctx, newLedger(mergedRows(l)), adviserOptions())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range whole.Plants {
		if i%4 == 0 {
			if diff := cmp.Diff(text(t, want), text(t, plant(t, adviser(l), want.Plant))); diff != "" {
				t.Errorf("%s: %s", want.Plant, diff)
			}
		}
		// One more delivery of one plant moves what the fleet has in common by next to nothing.
		got := plant(t, warm, want.Plant)
		if got.Status != want.Status || text(t, got.Stock.Tanks) != text(t, want.Stock.Tanks) {
			t.Errorf("%s: %s, in the whole fleet %s", want.Plant, got.Status, want.Status)
		}
		if a, b := got.Burn, want.Burn; (a == nil) != (b == nil) || a != nil && math.Abs(a.YearTotal/b.YearTotal-1) > 0.01 {
			t.Errorf("%s: burn %+v, in the whole fleet %+v", want.Plant, a, b)
		}
	}
}

// mergedRows gives all rows of a ledger.
func mergedRows(l *ledger) inventory.Rows {
	var all inventory.Rows
	for r := range l.directory.All() {
		all.Add(r)
	}
	for _, rows := range l.rows {
		for r := range rows.All() {
			all.Add(r)
		}
	}
	return all
}

func TestOnlyWhatChangedIsReadAgain(t *testing.T) {
	l := newLedger(some(four...))
	a := adviser(l)
	fleet(t, a)
	l.readSince()
	plant(t, a, "cape-orrin")
	if read := l.readSince(); !slices.Equal(read, []string{"cape-orrin"}) {
		t.Errorf("after a whole run %v are read for one plant", read)
	}
	l.edit(func(d *inventory.Rows) { // another factor: other litres from the same readings
		d.Meters = slices.Clone(d.Meters)
		for i, m := range d.Meters {
			if m.Plant == "tern-landing" {
				recalibrated := *m
				recalibrated.Factor = 1.01
				d.Meters[i] = &recalibrated
			}
		}
	})
	plant(t, a, "cape-orrin")
	if read := l.readSince(); !slices.Equal(read, []string{"cape-orrin", "tern-landing"}) {
		t.Errorf("%v are read after a plant's meter has changed", read)
	}
}

func TestTheBudgetIsInForceWithThePlants(t *testing.T) {
	l := newLedger(some(four...))
	a := adviser(l)
	fleet(t, a)
	f := inForce(t, l)
	if got := shown(f); !slices.Equal(got, slices.Sorted(slices.Values(four))) {
		t.Errorf("in force are %v", got)
	}
	if f.Budget == nil || len(f.Budget.Plants) != len(four) || len(f.Budget.Fleet.Months) != 24 {
		t.Fatalf("the budget is %+v", f.Budget)
	}
	o := adviserOptions()
	o.Months = 24
	want, err := advice.Budget(context.Background(), l, o)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(text(t, want), text(t, f.Budget)); diff != "" {
		t.Error(diff)
	}
	// On 2 March 2026 the coming year, from July 2026 to June 2027, is whole.
	year := f.Budget.Fleet.Years[1]
	if year.FiscalYear != 2027 || !year.Whole || year.Money.P50 <= 0 {
		t.Errorf("the fiscal year after the current one is %+v", year)
	}
}

func TestABudgetAtAnotherPriceKeepsItsLitres(t *testing.T) {
	o := adviserOptions()
	l := newLedger(some("cape-orrin", "heron-point"))
	at := func(p advice.Price) advice.FleetBudget {
		o.Price = p
		b, err := advice.Budget(context.Background(), l, o)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	dollars, crowns := advice.Price{PerLitre: 1.5, Currency: "USD"}, advice.Price{PerLitre: 12.345, Currency: "NOK"}
	b := at(dollars)
	before := text(t, b)
	if diff := cmp.Diff(text(t, at(crowns)), text(t, b.At(crowns))); diff != "" {
		t.Error(diff)
	}
	if text(t, b) != before {
		t.Error("asking at another price changes the budget itself")
	}
}

func TestAPlantThatIsNotThereIsNotFound(t *testing.T) {
	if _, err := adviser(newLedger(some("cape-orrin"))).Plant(context.Background(), "atlantis"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("got %v", err)
	}
}

func TestAWithdrawnPlantGoesOutOfForceWithTheNextRun(t *testing.T) {
	l := newLedger(some("cape-orrin", "heron-point"))
	a := adviser(l)
	fleet(t, a)
	withdrawn, rest := "heron-point", []string{"cape-orrin"}
	row := l.directory.Plants[slices.IndexFunc(l.directory.Plants, func(p *inventory.Plant) bool { return p.ID == withdrawn })]
	for litres := range 2 { // the second time it comes and goes between two runs of the fleet
		l.withdraw(withdrawn)
		for range 2 {
			fleet(t, a)
			if got := shown(inForce(t, l)); !slices.Equal(got, rest) {
				t.Fatalf("in force are %v", got)
			}
		}
		l.edit(func(d *inventory.Rows) { d.Plants = append(slices.Clone(d.Plants), row) })
		l.add(oneMoreDelivery(withdrawn, 1000*float64(1+litres)))
		plant(t, a, withdrawn)
		if got := shown(inForce(t, l)); len(got) != 2 {
			t.Fatalf("in force are %v though the plant is back", got)
		}
	}
	fleet(t, a)
	if got := shown(inForce(t, l)); len(got) != 2 {
		t.Fatalf("in force are %v though the plant is back", got)
	}
}

// The first call has read the ledger before a delivery and saves after the second call has saved.
func TestTheLaterReadingIsInForceWhicheverIsSavedLast(t *testing.T) {
	l := newLedger(some("heron-point"))
	a := adviser(l)
	saves, proceed := make(chan bool), make(chan bool)
	var others atomic.Bool
	l.saving = func(inventory.Issued) {
		if !others.Swap(true) {
			saves <- true
			<-proceed
		}
	}
	var first advice.Plant
	var group sync.WaitGroup
	group.Go(func() { first, _ = a.Plant(context.Background(), "heron-point") })
	<-saves
	l.add(oneMoreDelivery("heron-point", 5000))
	second := plant(t, a, "heron-point")
	close(proceed)
	group.Wait()
	if text(t, first) == text(t, second) {
		t.Fatal("a delivery changes nothing")
	}
	got, err := inForce(t, l).Plant("heron-point")
	if err != nil || text(t, got) != text(t, second) {
		t.Errorf("in force is %s (%v)", got.InputsVersion, err)
	}
}

// The first advice was for a local day that, by the zone as corrected, has not begun yet.
func TestACorrectedZoneIsInForceAtOnce(t *testing.T) {
	l := newLedger(some("meridian-lagoon"))
	o := adviserOptions()
	o.AsOf = nil
	a := advice.NewAdviser(l, o, calendar.At(time.Date(2026, time.March, 2, 20, 0, 0, 0, time.UTC)))
	for _, zone := range []string{"Pacific/Kiritimati", "Pacific/Pago_Pago", "Nowhere/Atlantis", "Pacific/Kiritimati"} {
		l.edit(func(d *inventory.Rows) {
			corrected := *d.Plants[0]
			corrected.Zone = zone
			d.Plants = []*inventory.Plant{&corrected}
		})
		want := plant(t, a, "meridian-lagoon")
		if got, err := inForce(t, l).Plant("meridian-lagoon"); err != nil || text(t, got) != text(t, want) {
			t.Errorf("%s: in force is that of %s for %s (%v)", zone, got.Zone, got.AsOf, err)
		}
		if due, err := a.Due(context.Background(), l.version); err != nil || due != nil {
			t.Errorf("%s: %v are due (%v)", zone, due, err)
		}
	}
}

func TestWhatIsSaidForADayOfChoiceStandsBackBehindToday(t *testing.T) {
	l := newLedger(some("cape-orrin"))
	say := func(day *calendar.Day) advice.Plant {
		o := adviserOptions()
		o.AsOf = day
		return advise(t, l, o).Plants[0]
	}
	check := func(what string, want advice.Plant) {
		t.Helper()
		if got, err := inForce(t, l).Plant("cape-orrin"); err != nil || text(t, got) != text(t, want) {
			t.Errorf("%s: in force is that of %s (%v)", what, got.AsOf, err)
		}
	}
	before, after := demo.AsOf-30, demo.AsOf+30
	check("a day ahead", say(&after))
	check("a day in the past, the last of choice", say(&before))
	today := say(nil)
	check("today", today)
	say(&after)
	say(&before)
	check("today, though others were said later", today)
}

func TestManyMayAskAtOnce(t *testing.T) {
	l := newLedger(some(four...))
	a := adviser(l)
	var group sync.WaitGroup
	for _, id := range append(four, four...) {
		group.Go(func() {
			if _, err := a.Plant(context.Background(), id); err != nil {
				t.Error(err)
			}
		})
	}
	group.Go(func() {
		if err := a.Fleet(context.Background()); err != nil {
			t.Error(err)
		}
	})
	group.Wait()
	if got := shown(inForce(t, l)); len(got) != len(four) {
		t.Errorf("in force are %v", got)
	}
}
