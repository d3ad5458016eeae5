package advice_test

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// What the desk shows is what was said, for every plant of the demo.
func TestWhatIsShownIsWhatWasSaid(t *testing.T) {
	l := newLedger(demo.Generate(demo.DefaultSeed).InForce())
	fleet(t, adviser(l))
	said := advise(t, l, adviserOptions())
	shown := inForce(t, l)
	if diff := cmp.Diff(said.Plants, shown.Plants); diff != "" {
		t.Error(diff)
	}
	if got := text(t, shown.Plants); got != text(t, said.Plants) {
		t.Error("what was read is written otherwise")
	}
}

// The same through a database, with the budget.
func TestAdviceComesBackFromADatabaseAsItWasSaid(t *testing.T) {
	ctx := context.Background()
	db, o := database(t, someWritten("cape-orrin", "alder-slough")), adviserOptions()
	if err := advice.NewAdviser(db, o, calendar.At(demo.Now)).Fleet(ctx); err != nil {
		t.Fatal(err)
	}
	shown, err := advice.NewDesk(db, o.Seed).InForce(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(advise(t, db, o).Plants, shown.Plants); diff != "" {
		t.Error(diff)
	}
	if !shown.Issued.Equal(demo.Now) || !shown.BudgetIssued.Equal(demo.Now) {
		t.Errorf("issued %v, the budget %v", shown.Issued, shown.BudgetIssued)
	}
	o.Months = 24
	b, err := advice.Budget(ctx, db, o)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(&b, shown.Budget); diff != "" {
		t.Error(diff)
	}
}

func TestADeskReadsOnlyWhatIsNew(t *testing.T) {
	ctx := context.Background()
	l := newLedger(some("cape-orrin", "heron-point"))
	a, desk := adviser(l), advice.NewDesk(l, 1)
	look := func() *advice.InForce {
		f, err := desk.InForce(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	if f := look(); f.Plants != nil || f.Budget != nil || !f.Issued.IsZero() {
		t.Errorf("before the first run %+v is in force", f)
	}
	fleet(t, a)
	first := look()
	if again := look(); again != first {
		t.Error("nothing is new and another set is given")
	}
	l.add(oneMoreDelivery("heron-point", 5000))
	want := plant(t, a, "heron-point")
	next := look()
	if got, err := next.Plant("heron-point"); err != nil || text(t, got) != text(t, want) {
		t.Errorf("the new advice is not shown (%v)", err)
	}
	if old, err := first.Plant("heron-point"); err != nil || text(t, old) == text(t, want) {
		t.Errorf("a set that was given out has changed (%v)", err)
	}
	behind := func(f *advice.InForce) bool {
		return slices.ContainsFunc(f.BudgetNotices(), func(n notice.Notice) bool { return n.Code == advice.CodeBudgetBehind })
	}
	if behind(first) || !behind(next) {
		t.Error("the notices do not say that the plant counts in more than the budget")
	}
	fleet(t, a)
	if behind(look()) {
		t.Error("the budget is behind after a whole run")
	}
	if _, err := next.Plant("atlantis"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("got %v", err)
	}
}

func TestABodyThatCannotBeReadDoesNotHideTheOthers(t *testing.T) {
	l := newLedger(some("cape-orrin", "heron-point"))
	fleet(t, adviser(l))
	for _, body := range []string{`[]`, `{"plant": "cape-orrin", "stock": 7}`, `{}`, `{"plant": "heron-point"}`} {
		spoil(l, "cape-orrin", body)
		f := inForce(t, l)
		bad, err := f.Plant("cape-orrin")
		if err != nil || bad.Status != resupply.Unknown || bad.Quality != advice.NoAnswer || len(bad.Notices) != 1 || bad.AsOf != demo.AsOf {
			t.Errorf("%s: %+v, %v", body, bad, err)
		}
		if good, err := f.Plant("heron-point"); err != nil || good.Status == resupply.Unknown {
			t.Errorf("%s: the other is %s, %v", body, good.Status, err)
		}
	}
	spoil(l, "", `{"plants": 3}`)
	if f := inForce(t, l); f.Budget != nil || len(f.Plants) != 2 {
		t.Errorf("with a spoilt budget %d plants are in force, and the budget %+v", len(f.Plants), f.Budget)
	}
}

// spoil puts another body in the place of what is in force.
func spoil(l *ledger, plant, body string) {
	c := l.current[plant]
	c.Body = []byte(body)
	l.current[plant] = c
}

// Advice as it was saved before a list was added to it.
func TestAnOlderBodyHasEmptyListsForWhatItLacks(t *testing.T) {
	l := newLedger(inventory.Rows{})
	l.current["p"] = inventory.Current{
		Issued: inventory.Issued{Plant: "p", Body: []byte(`{"plant": "p", "status": "in hand"}`)}, Revision: 1,
	}
	l.revision = 1
	p, err := inForce(t, l).Plant("p")
	if err != nil {
		t.Fatal(err)
	}
	var lists map[string]any
	if err := json.Unmarshal([]byte(text(t, p)), &lists); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"windows", "burn_by_month", "open_orders", "notices", "assumptions", "faulty_intervals"} {
		if lists[name] == nil {
			t.Errorf("%s is null", name)
		}
	}
}

func TestPlantsOfTheBudgetWithoutAdviceAreAwaited(t *testing.T) {
	l := newLedger(some("cape-orrin", "heron-point"))
	fleet(t, adviser(l))
	if n := inForce(t, l).Awaited(); n != 0 {
		t.Errorf("%d plants are awaited after a whole run", n)
	}
	delete(l.current, "heron-point") // as while a first run goes on
	f := inForce(t, l)
	if n, notes := f.Awaited(), f.Notices(); n != 1 || len(notes) != 1 || !strings.Contains(notes[0].Message, "1 of 2 plants") {
		t.Errorf("%d plants are awaited, want one; %v", n, notes)
	}
}
