package jobs

import (
	"context"
	"errors"
	"slices"
	"time"

	"overwinter/internal/fault"
)

// few is up to how many plants are advised one by one; for more the fleet is fitted once for all.
const few = 3

// run is one run of the schedule.
func (j *Jobs) run() {
	begun := time.Now()
	plants, err := j.advise(j.ctx)
	took := time.Since(begun).Milliseconds()
	switch {
	case j.ctx.Err() != nil: // given up at a stop
	case err != nil:
		j.log.Error("forecast failed; it is tried again within the hour", "error", err, "plants", plants, "duration_ms", took)
	case plants == 0:
		j.log.Debug("nothing to forecast", "duration_ms", took)
	default:
		j.log.Info("forecast", "plants", plants, "duration_ms", took)
	}
}

// advise advises what must be and gives the number of plants.
func (j *Jobs) advise(ctx context.Context) (plants int, err error) {
	whole, owed := j.whole.Swap(false), j.takeOwed()
	done := false
	defer func() { // also when a panic passes through
		if !done {
			j.owe(owed...)
			j.whole.CompareAndSwap(false, whole)
		}
	}()
	rows, err := j.ledger.Directory(ctx)
	if err != nil || len(rows.Plants) == 0 {
		return 0, err // a ledger without plants will have some in time
	}
	j.schedule(rows.Plants)
	due, err := j.adviser.Due(ctx)
	if err != nil {
		return 0, err
	}
	due = slices.Compact(slices.Sorted(slices.Values(append(due, owed...))))
	if whole || len(due) > few {
		if err = j.adviser.Fleet(ctx); err == nil {
			done = true
			j.caughtUp.Store(true)
		}
		return len(rows.Plants), err
	}
	err = j.adviseEach(ctx, due)
	done = true // each that failed is owed
	return len(due), err
}

// adviseEach advises plants one by one. One that fails keeps no other from its advice, and is owed.
func (j *Jobs) adviseEach(ctx context.Context, plants []string) error {
	var failed []error
	for _, id := range plants {
		if _, err := j.adviser.Plant(ctx, id); err != nil {
			failed = append(failed, err)
			if fault.KindOf(err) != fault.NotFound {
				j.owe(id)
			}
		}
	}
	return errors.Join(failed...)
}

func (j *Jobs) takeOwed() []string {
	j.mu.Lock()
	defer j.mu.Unlock()
	var all []string
	for id := range j.owed {
		all = append(all, id)
	}
	clear(j.owed)
	return all
}

func (j *Jobs) owe(plants ...string) {
	j.mu.Lock()
	defer j.mu.Unlock()
	for _, id := range plants {
		j.owed[id] = true
	}
}
