package jobs

import (
	"context"
	"errors"
	"slices"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
)

// few is up to how many plants are advised one by one; for more the fleet is fitted once for all.
const few = 3

// run is one run of the schedule.
func (j *Jobs) run() {
	j.going.Store(true)
	defer j.going.Store(false)
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
	if away(err) {
		j.looks.repeat()
	}
}

// away tells whether a run failed since the ledger could not be reached: then it is tried again as soon as
// it can. After any other failure an hour is soon enough.
func away(err error) bool { return err != nil && fault.KindOf(err) == fault.Unavailable }

// advise advises what must be and gives the number of plants.
func (j *Jobs) advise(ctx context.Context) (plants int, err error) {
	whole, done := j.whole.Swap(false), false
	defer func() { // also when a panic passes through
		if !done {
			j.whole.CompareAndSwap(false, whole)
		}
	}()
	version, err := j.ledger.Version(ctx)
	if err != nil {
		return 0, err
	}
	rows, err := j.ledger.Directory(ctx)
	if err != nil || len(rows.Plants) == 0 {
		return 0, err // a ledger without plants will have some in time
	}
	j.schedule(rows.Plants)
	upTo := j.looks.settled()
	due, err := j.adviser.Due(ctx, upTo)
	if err != nil {
		return 0, err
	}
	due = slices.DeleteFunc(due, j.refreshing)
	if whole || len(due) > few {
		plants, upTo, err = len(rows.Plants), version, j.adviser.Fleet(ctx)
		if done = err == nil || errors.Is(err, advice.ErrSomePlants); done {
			j.caughtUp.Store(true)
		}
	} else {
		plants, err = len(due), j.adviseEach(ctx, due)
		done = true
	}
	if !away(err) {
		j.looks.done(upTo)
	}
	return plants, err
}

// adviseEach advises plants one by one. One that fails keeps no other from its advice.
func (j *Jobs) adviseEach(ctx context.Context, plants []string) error {
	var failed []error
	for _, id := range plants {
		if _, err := j.adviser.Plant(ctx, id); err != nil {
			failed = append(failed, err)
		}
	}
	return errors.Join(failed...)
}
