package advice

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"

	"overwinter/internal/budget"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// Keeper is a Store that tells what is in force.
type Keeper interface {
	Store
	AdviceInForce(ctx context.Context, seed uint64) ([]inventory.Issued, error)
}

// Adviser advises again and again on one ledger: the whole fleet once a day, and a plant at once when a
// reading of it comes in. It may be used from several goroutines.
//
// Between calls it keeps what the plants lend each other of their seasons, so that a plant is advised
// without reading the others. A row that another process wrote for one plant therefore shows in the
// advice for the others of its climate group with the next Fleet, the next Plant for that plant, or
// the next day, whichever comes first.
type Adviser struct {
	store Keeper
	opts  Options // Now is told by the clock
	clock calendar.Clock
	known *lenders

	mu   sync.Mutex
	last time.Time // the moment of the last run
}

// NewAdviser makes an adviser; o.Now and o.Progress are not used, and o.Months is
// budget.TwoYearMonths where it is 0.
func NewAdviser(store Keeper, o Options, clock calendar.Clock) *Adviser {
	if o.Months == 0 {
		o.Months = budget.TwoYearMonths
	}
	o.Progress = nil
	return &Adviser{store: store, opts: o, clock: clock, known: newLenders()}
}

// Fleet advises every plant, works the budget out, and puts both in force. The plants that the budget
// lists are those of the ledger; with it a plant that was withdrawn goes out of force. The error joins the
// faults of single plants, which do not keep the others from their advice.
func (a *Adviser) Fleet(ctx context.Context) error {
	r, err := beginIssuing(ctx, a.store, a.options(), a.known)
	if err != nil {
		return err
	}
	if err := r.fitAll(ctx); err != nil {
		return err
	}
	b, err := r.budget(ctx)
	if err != nil {
		return err
	}
	// First the budget: if the plants fail, they are still due and the run is repeated.
	if err := r.saveBudget(ctx, a.store, b); err != nil {
		return err
	}
	_, err = r.adviseAll(ctx, func(i int, p Plant) error { return r.save(ctx, a.store, i, p, r.version) })
	a.known.keep(r.plants)
	return err
}

// Plant advises one plant and puts that in force; what it says is what Fleet would say. The budget stays
// as the last Fleet left it, and says so by its moment of issue. The error is fault.NotFound where
// there is no such plant; where it is a fault of the program, advice that says so is in force.
func (a *Adviser) Plant(ctx context.Context, id string) (Plant, error) {
	r, err := beginIssuing(ctx, a.store, a.options(), a.known)
	if err != nil {
		return Plant{}, err
	}
	i := slices.IndexFunc(r.plants, func(p *inventory.Plant) bool { return p.ID == id })
	if i < 0 {
		return Plant{}, fault.New(fault.NotFound, "there is no plant %q", id)
	}
	book, err := r.fitOne(ctx, i)
	if err != nil {
		return Plant{}, err
	}
	advice, err := r.answer(ctx, i, book)
	if err != nil {
		return Plant{}, err
	}
	return advice, errors.Join(r.save(ctx, a.store, i, advice, r.version), r.faults())
}

// Due lists the plants that have no advice in force for their own today by this version of the model, and
// those whose advice in force leaves out a row of theirs, or of a route, a window or degree days, that was written up to a
// version of the ledger.
func (a *Adviser) Due(ctx context.Context, upTo int64) ([]string, error) {
	changes, err := a.store.Changes(ctx)
	if err != nil {
		return nil, err
	}
	rows, err := a.store.Directory(ctx)
	if err != nil {
		return nil, err
	}
	all, err := a.store.AdviceInForce(ctx, a.opts.Seed)
	if err != nil {
		return nil, err
	}
	inForce := map[string]inventory.Issued{}
	for _, f := range all {
		inForce[f.Plant] = f
	}
	o := a.opts
	o.Now = a.clock()
	days, _ := o.days(rows.Plants)
	var due []string
	for i, p := range rows.Plants {
		f, ok := inForce[p.ID]
		newest := min(max(changes[p.ID], changes[""]), upTo)
		if !ok || f.InputsVersion == failedInputs || f.ModelVersion != ModelVersion || f.AsOf != days[i] || f.Ledger < newest {
			due = append(due, p.ID)
		}
	}
	return due, nil
}

// options are those of a run that begins now. Its moment of issue is a millisecond later at least than that
// of the run before, so that what was issued stands in order also where the clock stands still.
func (a *Adviser) options() Options {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := a.clock().Truncate(time.Millisecond)
	if !now.After(a.last) {
		now = a.last.Add(time.Millisecond)
	}
	a.last = now
	o := a.opts
	o.Now = now
	return o
}
