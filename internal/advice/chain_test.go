package advice_test

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
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

// fewPaths is enough where only the way through matters.
const fewPaths = 200

func options() advice.Options {
	day := demo.AsOf
	return advice.Options{AsOf: &day, Now: demo.Now, Seed: 1, Paths: fewPaths}
}

func advise(t *testing.T, store advice.Store, o advice.Options) advice.Fleet {
	t.Helper()
	fleet, err := advice.Advise(context.Background(), store, o)
	if err != nil {
		t.Fatal(err)
	}
	return fleet
}

func of(t *testing.T, fleet advice.Fleet, plant string) advice.Plant {
	t.Helper()
	i := slices.IndexFunc(fleet.Plants, func(p advice.Plant) bool { return p.Plant == plant })
	if i < 0 {
		t.Fatalf("no advice for %s", plant)
	}
	return fleet.Plants[i]
}

func TestTheDemoHasAPlantInEveryStateMostUrgentFirst(t *testing.T) {
	o := options()
	o.Paths = 0 // as people see it
	fleet := advise(t, newLedger(demo.Generate(demo.DefaultSeed).InForce()), o)
	count := map[resupply.Status]int{}
	last := -1
	order := []resupply.Status{resupply.Short, resupply.OrderNow, resupply.Unknown, resupply.OrderSoon, resupply.InHand}
	for _, p := range fleet.Plants {
		count[p.Status]++
		if at := slices.Index(order, p.Status); at < last {
			t.Errorf("%s is %s and stands after one that is less urgent", p.Plant, p.Status)
		} else {
			last = at
		}
	}
	if first := fleet.Plants[0]; first.Plant != "cape-orrin" || first.Status != resupply.Short {
		t.Errorf("%s is %s and comes first, want cape-orrin, short", first.Plant, first.Status)
	}
	for _, s := range order {
		if count[s] == 0 {
			t.Errorf("no plant is %s: %v", s, count)
		}
	}
	if p := of(t, fleet, "plover-bight"); p.Status != resupply.Unknown || p.Stock.Usable != nil || p.Order != nil || p.Burn == nil {
		t.Errorf("a plant silent for six weeks is %s with stock %v: want unknown, its burn still forecast", p.Status, p.Stock.Usable)
	}
	if p := of(t, fleet, "cape-orrin"); p.Short == nil || p.Short.Litres <= 0 || len(p.Short.Loads) == 0 {
		t.Errorf("the plant that ends up short says %+v", p.Short)
	}
}

func TestTheSameSeedGivesTheSameAdviceToTheByte(t *testing.T) {
	text := func(seed uint64) string {
		o := options()
		o.Seed = seed
		body, err := json.Marshal(advise(t, newLedger(some("cape-orrin", "heron-point", "plover-bight", "alder-slough")), o))
		if err != nil {
			t.Fatal(err)
		}
		return string(body)
	}
	first := text(1)
	if diff := cmp.Diff(first, text(1)); diff != "" {
		t.Error(diff)
	}
	if first == text(2) {
		t.Error("another seed gives the same futures")
	}
	for _, list := range []string{"notices", "faulty_intervals", "open_orders", "assumptions", "lines", "steps", "fallbacks", "windows", "tanks", "burn_by_month"} {
		if strings.Contains(first, `"`+list+`":null`) {
			t.Errorf("the list %s is null where it is empty", list)
		}
	}
}

func TestAdviceIsKeptAsIssuedUntilItsInputsChange(t *testing.T) {
	ctx := context.Background()
	db := database(t, someWritten("marten-spit", "tern-landing"))
	fleet := advise(t, db, options())
	later := options()
	later.Now = later.Now.Add(time.Hour)
	advise(t, db, later)
	kept, err := db.Advice(ctx, "marten-spit")
	if err != nil {
		t.Fatal(err)
	}
	if len(kept) != 1 || !kept[0].IssuedAt.Equal(demo.Now) {
		t.Fatalf("%d pieces of advice kept, first at %v: the same inputs are one", len(kept), kept[0].IssuedAt)
	}
	var said advice.Plant
	if err := json.Unmarshal(kept[0].Body, &said); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(of(t, fleet, "marten-spit"), said); diff != "" {
		t.Error(diff)
	}
	_, err = db.Record(ctx, inventory.Rows{Deliveries: []*inventory.Delivery{{
		Entry: inventory.Entry{Key: "one more"}, Plant: "marten-spit", At: demo.Now.Add(-4 * time.Hour), // after the evening's last dip
		Measure: inventory.Measure{Volume: 5000, Basis: inventory.Basis15},
	}}}, demo.Now)
	if err != nil {
		t.Fatal(err)
	}
	after := of(t, advise(t, db, later), "marten-spit")
	if got, want := *after.Stock.Usable-*said.Stock.Usable, 5000.0; got < want-1e-6 || got > want+1e-6 {
		t.Errorf("5000 L delivered raise the stock by %v", got)
	}
	if kept, err = db.Advice(ctx, "marten-spit"); err != nil || len(kept) != 2 {
		t.Errorf("%d pieces of advice kept, want two (%v)", len(kept), err)
	}
}

// What happened after the day must not be known on it: the advice from the whole ledger is that from
// the ledger cut off at the day's close.
func TestAnEarlierDayKnowsNothingOfWhatCameLater(t *testing.T) {
	scenario := demo.Generate(demo.DefaultSeed)
	whole := scenario.InForce()
	day := calendar.Date(2025, time.October, 15)
	dir := inventory.NewDirectory(whole)
	var cut inventory.Rows
	for r := range whole.All() {
		if happenedBy(t, dir, r, day) {
			cut.Add(r)
		}
	}
	if cut.Len() == whole.Len() {
		t.Fatal("nothing happened after the day")
	}
	o := options()
	o.AsOf = &day
	known, all := advise(t, memory{cut}, o), advise(t, memory{whole}, o)
	for i := range all.Plants {
		all.Plants[i].InputsVersion, known.Plants[i].InputsVersion = "", "" // the rows given differ
	}
	if diff := cmp.Diff(known, all); diff != "" {
		t.Error(diff)
	}
}

// happenedBy tells whether a row was there at the close of a day at its plant.
func happenedBy(t *testing.T, dir *inventory.Directory, r inventory.Record, day calendar.Day) bool {
	t.Helper()
	var at time.Time
	switch v := r.(type) {
	case *inventory.MeterReading:
		at = v.At
	case *inventory.Gauging:
		at = v.At
	case *inventory.Delivery:
		at = v.At
	case *inventory.Transfer:
		at = v.At
	case *inventory.PeriodTotal:
		return v.LastDay <= day
	case *inventory.Draw:
		return v.FirstDay <= day
	case *inventory.Order:
		return v.OrderedOn <= day
	case *inventory.Clearance: // it has no day of its own; the demo's are of an order that came later
		return false
	default:
		return true
	}
	zone, err := dir.Plant(r.PlantID()).Location()
	if err != nil {
		t.Fatal(err)
	}
	_, end := day.Bounds(zone)
	return at.Before(end)
}

func TestALedgerWithoutPlantsSaysWhatToDo(t *testing.T) {
	_, err := advice.Advise(context.Background(), memory{}, options())
	if fault.KindOf(err) != fault.NotFound || !strings.Contains(err.Error(), "load a data folder first") {
		t.Errorf("got %v", err)
	}
}

// A plant without tanks or routes still has its burn forecast, and says what is missing.
func TestAPlantWithNothingButTotalsHasItsBurnForecast(t *testing.T) {
	rows := inventory.Rows{Plants: []*inventory.Plant{{ID: "P", Name: "P", Zone: "UTC", Product: "diesel-2-s15"}}}
	for m := (calendar.Month{Year: 2024, Month: time.January}); m.First() < demo.AsOf-30; m = m.Next() {
		rows.Totals = append(rows.Totals, &inventory.PeriodTotal{
			Plant: "P", FirstDay: m.First(), LastDay: m.Next().First() - 1,
			Measure: inventory.Measure{Volume: units.Litres(1000 * float64(m.Next().First()-m.First())), Basis: inventory.Basis15},
		})
	}
	p := advise(t, memory{rows}, options()).Plants[0]
	if p.Status != resupply.Unknown || p.Quality != advice.NoAnswer || p.Order != nil {
		t.Errorf("got %s, %s, order %v", p.Status, p.Quality, p.Order)
	}
	if p.Burn == nil || p.Burn.YearTotal < 340_000 || p.Burn.YearTotal > 390_000 {
		t.Errorf("burn %+v, want about 365000 L a year", p.Burn)
	}
	if !slices.ContainsFunc(p.Notices, func(n notice.Notice) bool { return n.Code == "stock-unknown" }) {
		t.Errorf("notices %v", p.Notices)
	}
}

func TestTheFleetsBudgetIsThatOfItsPlantsTogether(t *testing.T) {
	scenario := demo.Generate(demo.DefaultSeed)
	o := options()
	o.Price = advice.Price{PerLitre: 2, Currency: "USD"}
	b, err := advice.Budget(context.Background(), memory{scenario.InForce()}, o)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, p := range b.Plants {
		if p.Budget == nil {
			t.Fatalf("%s has no budget", p.Plant)
		}
		sum += p.Budget.Total.Litres.P50
	}
	if total := b.Fleet.Total; total.Litres.P50 < 0.98*sum || total.Litres.P50 > 1.02*sum {
		t.Errorf("the fleet burns %v, its plants' medians sum to %v", total.Litres.P50, sum)
	} else if want := int64(200 * total.Litres.P50); total.Money.P50 < want-1 || total.Money.P50 > want+1 {
		t.Errorf("%v L at 2.00 cost %d hundredths", total.Litres.P50, total.Money.P50)
	}
}
