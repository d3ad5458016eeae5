package advice

import (
	"context"
	"encoding/json"
	"slices"
	"sync"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Shown is what a desk needs of a store.
type Shown interface {
	CurrentAdvice(ctx context.Context, seed uint64, after int64) ([]inventory.Current, error)
	AdviceRevision(ctx context.Context, seed uint64) (int64, error)
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
	Budget   *FleetBudget

	plants map[string]issuedPlant
}

type issuedPlant struct {
	Plant
	issued time.Time
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
	next, err := d.last.with(news)
	if err != nil {
		return nil, err
	}
	d.last = next
	return next, nil
}

// Plant finds a plant's advice. The error is fault.NotFound where there is none.
func (f *InForce) Plant(id string) (Plant, error) {
	p, ok := f.plants[id]
	if !ok {
		return Plant{}, fault.New(fault.NotFound, "there is no advice for a plant %q: check its id, or wait for the first forecast", id)
	}
	return p.Plant, nil
}

// with gives a new set with later advice in it.
func (f *InForce) with(news []inventory.Current) (*InForce, error) {
	next := &InForce{Revision: f.Revision, Issued: f.Issued, Budget: f.Budget, plants: map[string]issuedPlant{}}
	for id, p := range f.plants {
		next.plants[id] = p
	}
	for _, n := range news {
		if err := next.take(n); err != nil {
			return nil, fault.Wrap(fault.Internal, err, "the saved advice of plant %q cannot be read", n.Plant)
		}
	}
	for _, p := range next.plants {
		next.Plants = append(next.Plants, p.Plant)
	}
	slices.SortFunc(next.Plants, moreUrgent)
	return next, nil
}

func (f *InForce) take(n inventory.Current) error {
	f.Revision = max(f.Revision, n.Revision)
	if n.IssuedAt.After(f.Issued) {
		f.Issued = n.IssuedAt
	}
	if n.Plant == "" {
		f.Budget = new(FleetBudget)
		return json.Unmarshal(n.Body, f.Budget)
	}
	p := issuedPlant{issued: n.IssuedAt}
	err := json.Unmarshal(n.Body, &p.Plant)
	f.plants[n.Plant] = p
	return err
}
