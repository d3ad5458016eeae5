package advice_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
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
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
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

// A plant alone, with what is kept of the others or with nothing kept, is advised to the byte as in a run
// of the whole fleet.
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
		a := warm
		if i%4 == 0 {
			a = adviser(l)
		}
		if diff := cmp.Diff(text(t, want), text(t, plant(t, a, want.Plant))); diff != "" {
			t.Errorf("%s: %s", want.Plant, diff)
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

func TestPlantsAreDueUntilTheyAreAdvisedForTheirOwnToday(t *testing.T) {
	ctx := context.Background()
	l := newLedger(some("cape-orrin", "meridian-lagoon")) // UTC−9 and UTC+12
	now := demo.Now
	o := adviserOptions()
	o.AsOf = nil
	a := advice.NewAdviser(l, o, func() time.Time { return now })
	due := func() []string {
		ids, err := a.Due(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return ids
	}
	both := []string{"cape-orrin", "meridian-lagoon"}
	if got := due(); !slices.Equal(slices.Sorted(slices.Values(got)), both) {
		t.Errorf("at first %v are due", got)
	}
	plant(t, a, "cape-orrin")
	if got := due(); !slices.Equal(got, both[1:]) {
		t.Errorf("%v are due after one was advised", got)
	}
	fleet(t, a)
	if got := due(); got != nil {
		t.Errorf("%v are due after the fleet was advised", got)
	}
	now = time.Date(2026, time.March, 3, 13, 0, 0, 0, time.UTC) // 4 March in the west of the date line, 3 March in Alaska
	if got := due(); !slices.Equal(got, both[1:]) {
		t.Errorf("%v are due when a day has begun for one of them", got)
	}
}

func TestAPlantThatCannotBeReckonedWithDoesNotKeepTheOthersFromTheirAdvice(t *testing.T) {
	breaks := map[string]func(*inventory.Rows){
		"unknown time zone": func(d *inventory.Rows) {
			d.Plants = slices.Clone(d.Plants)
			i := slices.IndexFunc(d.Plants, func(p *inventory.Plant) bool { return p.ID == "cape-orrin" })
			lost := *d.Plants[i]
			lost.Zone = "America/Atlantis"
			d.Plants[i] = &lost
		},
		"incomplete": func(d *inventory.Rows) {
			d.Tanks = append(slices.Clone(d.Tanks), &inventory.Tank{
				Plant: "cape-orrin", ID: "new", Role: inventory.Storage, Product: "diesel-1-s15", Shape: inventory.ShapeVertical,
			})
		},
	}
	for says, change := range breaks {
		l := newLedger(some("cape-orrin", "tern-landing"))
		l.edit(change)
		a := adviser(l)
		fleet(t, a)
		f := inForce(t, l)
		bad, err := f.Plant("cape-orrin")
		if err != nil {
			t.Fatal(err)
		}
		ok := slices.ContainsFunc(bad.Notices, func(n notice.Notice) bool {
			return n.Severity == notice.Serious && strings.Contains(n.Message, says)
		})
		if bad.Status != resupply.Unknown || bad.Quality != advice.NoAnswer || !ok {
			t.Errorf("%s: %s, %s, %v", says, bad.Status, bad.Quality, bad.Notices)
		}
		if good, err := f.Plant("tern-landing"); err != nil || good.Status == resupply.Unknown {
			t.Errorf("%s: the other is %s (%v)", says, good.Status, err)
		}
		if i := slices.IndexFunc(f.Budget.Plants, func(p advice.PlantBudget) bool { return p.Plant == "cape-orrin" }); i < 0 ||
			f.Budget.Plants[i].Budget != nil || len(f.Budget.Plants[i].Notices) == 0 {
			t.Errorf("%s: its budget does not say that it is missing", says)
		}
		if got := text(t, plant(t, a, "cape-orrin")); got != text(t, bad) {
			t.Errorf("%s: alone it says %s", says, got)
		}
		if due, err := a.Due(context.Background()); err != nil || due != nil {
			t.Errorf("%s: %v are still due (%v)", says, due, err)
		}
	}
}

func TestAStoreThatFailsStopsTheRun(t *testing.T) {
	l := newLedger(some("cape-orrin"))
	l.broken = fault.New(fault.Unavailable, "the ledger is busy")
	if err := adviser(l).Fleet(context.Background()); !errors.Is(err, l.broken) {
		t.Errorf("got %v", err)
	}
	if f := inForce(t, l); f.Plants != nil {
		t.Errorf("%v are in force", shown(f))
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
