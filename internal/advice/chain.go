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
	inventory.ForecastStore
	SaveAdvice(ctx context.Context, issued inventory.Issued) error
}

// Options says for when and how to advise.
type Options struct {
	// AsOf is the day to advise for; nil means each plant's own today. What Advise says for a day of choice is
	// in force only as long as nothing was said for a plant's own today.
	AsOf *calendar.Day
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
// reckoned with does not keep the others from their advice: its own says what is wrong. Where that is a fault
// of the program it is an error as well, with the fleet beside it.
func Advise(ctx context.Context, store Store, o Options) (Fleet, error) {
	r, err := beginIssuing(ctx, store, o, newLenders())
	if err != nil {
		return Fleet{}, err
	}
	if err := r.fitAll(ctx); err != nil {
		return Fleet{}, err
	}
	ledger := r.version
	if o.AsOf != nil {
		ledger = 0
	}
	return r.adviseAll(ctx, func(i int, p Plant) error { return r.save(ctx, store, i, p, ledger) })
}

// adviseAll advises every plant from its fitted model and keeps that.
func (r *run) adviseAll(ctx context.Context, keep func(int, Plant) error) (Fleet, error) {
	fleet := Fleet{AsOf: r.opts.AsOf, ModelVersion: ModelVersion, Seed: r.opts.Seed, Plants: make([]Plant, len(r.plants))}
	err := r.each(ctx, r.all(), r.opts.Progress, func(i int) (err error) {
		if fleet.Plants[i], err = r.answer(ctx, i, nil); err != nil {
			return err
		}
		return keep(i, fleet.Plants[i])
	})
	if err != nil {
		return Fleet{}, err
	}
	slices.SortStableFunc(fleet.Plants, moreUrgent)
	return fleet, r.faults()
}

// answer advises a fitted plant, from its book or, where that is nil, from its rows read again. A plant's
// own failure is the answer; the error is one that stops the run.
func (r *run) answer(ctx context.Context, i int, book *inventory.Book) (a Plant, err error) {
	if r.failed[i] == nil {
		r.failed[i] = guarded(i, func(i int) (err error) {
			if book == nil {
				book, err = r.book(ctx, i)
			}
			if err == nil {
				a, err = r.advise(ctx, i, book)
			}
			return err
		})
	}
	switch err := r.failed[i]; {
	case err == nil:
		return a, nil
	case stops(err):
		return Plant{}, err
	default:
		return r.noAnswer(i, err), nil
	}
}
