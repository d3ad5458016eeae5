package advice_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

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
		if due, err := a.Due(context.Background(), math.MaxInt64); err != nil || due != nil {
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

// A fault of the program that shows with one plant: the others have their advice, that plant says what is
// wrong and is due until it is mended, and the run says it too.
func TestAPanicOverOnePlantKeepsNoOtherFromItsAdvice(t *testing.T) {
	ctx := context.Background()
	l := newLedger(some(four...))
	l.panics = "cape-orrin"
	a := adviser(l)
	due := func() []string {
		ids, err := a.Due(ctx, math.MaxInt64)
		if err != nil {
			t.Fatal(err)
		}
		return ids
	}
	check := func(err error) {
		t.Helper()
		if fault.KindOf(err) != fault.Internal || !strings.Contains(err.Error(), "plant cape-orrin: ") || !strings.Contains(err.Error(), "a fault of the ledger") {
			t.Fatalf("the run says %v", err)
		}
		f := inForce(t, l)
		for _, id := range four {
			p, err := f.Plant(id)
			said := slices.ContainsFunc(p.Notices, func(n notice.Notice) bool { return n.Code == "plant-unusable" })
			if bad := id == l.panics; err != nil || bad != (p.Status == resupply.Unknown) || bad != said {
				t.Errorf("%s is %s, %v (%v)", id, p.Status, p.Notices, err)
			}
			for _, n := range p.Notices {
				if strings.Contains(n.Message, "goroutine") || strings.Contains(n.Message, "a fault of the ledger") {
					t.Errorf("people are told the cause: %s", n.Message)
				}
			}
		}
		if got := due(); !slices.Equal(got, []string{l.panics}) {
			t.Errorf("%v are due", got)
		}
	}
	check(a.Fleet(ctx))
	for _, p := range inForce(t, l).Budget.Plants {
		if bad := p.Plant == l.panics; bad != (p.Budget == nil) || bad && len(p.Notices) == 0 {
			t.Errorf("the budget of %s has notices %v", p.Plant, p.Notices)
		}
	}
	_, err := a.Plant(ctx, l.panics)
	check(err)
	if said, err := advice.Advise(ctx, l, adviserOptions()); err == nil || len(said.Plants) != len(four) {
		t.Errorf("asked once, %d plants are told, %v", len(said.Plants), err)
	}

	l.panics = ""
	plant(t, a, "cape-orrin")
	if got := due(); got != nil {
		t.Errorf("%v are due when the fault is mended", got)
	}
}
