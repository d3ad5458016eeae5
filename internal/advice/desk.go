package advice

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"sync"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Shown is what a desk needs of a store.
type Shown interface {
	CurrentAdvice(ctx context.Context, seed uint64, after int64) ([]inventory.Current, error)
	AdviceRevision(ctx context.Context, seed uint64) (int64, error)
	CountsIn(ctx context.Context, seed uint64, plant string) (bool, error)
}

// Desk shows the advice in force, as it was saved. It keeps what it read and asks the store at each
// call, with one look into an index, whether there is anything newer: so several instances on one
// database show the same.
type Desk struct {
	store Shown
	seed  uint64

	mu   sync.Mutex
	last *InForce
}

// InForce is the advice in force at one revision. It is shared and must not be changed.
type InForce struct {
	Revision int64
	Issued   time.Time // of the newest advice in it; zero if there is none
	Plants   []Plant   // most urgent first
	// Budget is nil where there is none yet. It lags behind the plants until the whole fleet is advised
	// again.
	Budget       *FleetBudget
	BudgetIssued time.Time

	budgetLedger int64            // the version of the ledger that the budget counts in
	saved        map[string]saved // by plant, withdrawn ones too
	shown        map[string]Plant
}

// saved is a plant's advice as the store gave it, with the version of the ledger that it counts in.
type saved struct {
	Plant
	ledger int64
}

// NewDesk makes a desk for the advice of one seed.
func NewDesk(store Shown, seed uint64) *Desk {
	return &Desk{store: store, seed: seed, last: &InForce{}}
}

// InForce gives the advice in force now.
func (d *Desk) InForce(ctx context.Context) (*InForce, error) {
	revision, err := d.store.AdviceRevision(ctx, d.seed)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if revision <= d.last.Revision {
		return d.last, nil
	}
	news, err := d.store.CurrentAdvice(ctx, d.seed, d.last.Revision)
	if err != nil {
		return nil, err
	}
	d.last = d.last.with(news)
	return d.last, nil
}

// CountsIn tells whether a plant's advice in force counts in all that the ledger holds of it now.
func (d *Desk) CountsIn(ctx context.Context, plant string) (bool, error) {
	return d.store.CountsIn(ctx, d.seed, plant)
}

// Plant finds a plant's advice. The error is fault.NotFound where there is none.
func (f *InForce) Plant(id string) (Plant, error) {
	p, ok := f.shown[id]
	if !ok {
		return Plant{}, fault.New(fault.NotFound, "there is no advice for a plant %q: check its id, or wait for the first forecast", id)
	}
	return p, nil
}

// Ledger gives the version of the ledger that a plant's advice in force counts in; 0 where that was reckoned for a day
// of choice.
func (f *InForce) Ledger(plant string) int64 { return f.saved[plant].ledger }

// Awaited counts the plants whose budget is there and whose advice is not yet: a first forecast saves the
// budget, then plant by plant.
func (f *InForce) Awaited() int {
	if f.Budget == nil {
		return 0
	}
	n := 0
	for _, p := range f.Budget.Plants {
		if _, ok := f.shown[p.Plant]; !ok {
			n++
		}
	}
	return n
}

// with gives a new set with later advice in it.
func (f *InForce) with(news []inventory.Current) *InForce {
	next := *f
	next.saved, next.shown = map[string]saved{}, map[string]Plant{}
	maps.Copy(next.saved, f.saved)
	for _, n := range news {
		next.take(n)
	}
	for id, p := range next.saved {
		next.shown[id] = p.Plant
	}
	next.hideWithdrawn()
	next.Plants = slices.SortedFunc(maps.Values(next.shown), moreUrgent)
	return &next
}

// hideWithdrawn takes out the plants that are not in the ledger any more. The budget lists all that were
// there in its version of the ledger, and a plant that was advised from a later one is there too.
func (f *InForce) hideWithdrawn() {
	if f.Budget == nil {
		return
	}
	listed := map[string]bool{}
	for _, p := range f.Budget.Plants {
		listed[p.Plant] = true
	}
	maps.DeleteFunc(f.shown, func(id string, _ Plant) bool {
		return !listed[id] && f.saved[id].ledger <= f.budgetLedger
	})
}

// take puts one later body in place. One that cannot be read must not hide the others: a plant's stands
// as unknown, and a budget's as none.
func (f *InForce) take(n inventory.Current) {
	f.Revision = max(f.Revision, n.Revision)
	if n.IssuedAt.After(f.Issued) {
		f.Issued = n.IssuedAt
	}
	if n.Plant == "" {
		f.Budget, f.BudgetIssued, f.budgetLedger = new(FleetBudget), n.IssuedAt, n.Ledger
		if err := json.Unmarshal(n.Body, f.Budget); err != nil {
			f.Budget = nil
		}
		return
	}
	p := unknown("") // lists that an older body leaves out stay empty
	if err := json.Unmarshal(n.Body, &p); err != nil || p.Plant != n.Plant {
		p = unreadable(n)
	}
	f.saved[n.Plant] = saved{p, n.Ledger}
}

// unreadable stands for advice whose body cannot be read.
func unreadable(n inventory.Current) Plant {
	p := unknown(n.Plant)
	p.Name, p.AsOf, p.ModelVersion, p.InputsVersion, p.Seed = n.Plant, n.AsOf, n.ModelVersion, n.InputsVersion, n.Seed
	p.Notices.Add(notice.New(notice.Serious, "advice-unreadable", n.Plant,
		"its saved advice cannot be read: run the forecast again, and report this if it stays"))
	return p
}
