package advice

import (
	"context"
	"slices"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
)

// Store is what the chain needs of a store: the ledger to read, and a place to keep what it says.
type Store interface {
	inventory.Reader
	SaveAdvice(ctx context.Context, issued inventory.Issued) error
}

// Options says for when and how to advise.
type Options struct {
	AsOf *calendar.Day // nil: each plant's own today
	Now  time.Time
	Seed uint64
	// Paths is the number of simulated futures; 0 means DefaultPaths.
	Paths int
	// Price is what the budget reckons with.
	Price Price
	// Months is how far the budget looks; 0 means budget.Months.
	Months int
	// Progress, if set, is told of each plant done, one call at a time.
	Progress func(done, of int)
}

// DefaultPaths certifies a risk of 2 % with 12 paths to spare; a risk of 1 % still with 4.
const DefaultPaths = 1000

func (o Options) paths() int {
	if o.Paths == 0 {
		return DefaultPaths
	}
	return o.Paths
}

// Advise runs the chain for every plant and saves what it says as issued. A plant that cannot be
// reckoned with does not keep the others from their advice: its own says what is wrong.
func Advise(ctx context.Context, store Store, o Options) (Fleet, error) {
	r, err := begin(ctx, store, o, newLenders())
	if err != nil {
		return Fleet{}, err
	}
	if err := r.fitAll(ctx); err != nil {
		return Fleet{}, err
	}
	return r.adviseAll(ctx, store)
}

// adviseAll advises every plant from its fitted model and saves that.
func (r *run) adviseAll(ctx context.Context, store Store) (Fleet, error) {
	fleet := Fleet{AsOf: r.opts.AsOf, ModelVersion: ModelVersion, Seed: r.opts.Seed, Plants: make([]Plant, len(r.plants))}
	err := r.each(ctx, r.all(), r.opts.Progress, func(i int) error {
		book, err := r.book(ctx, i)
		if err == nil {
			fleet.Plants[i], err = r.advise(i, book)
		}
		if fleet.Plants[i], err = r.orNoAnswer(i, fleet.Plants[i], err); err != nil {
			return err
		}
		return save(ctx, store, fleet.Plants[i], r.opts.Now)
	})
	if err != nil {
		return Fleet{}, err
	}
	slices.SortStableFunc(fleet.Plants, moreUrgent)
	return fleet, nil
}
