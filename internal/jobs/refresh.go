package jobs

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"overwinter/internal/fault"
)

// turn is one refresh of a plant. All who ask before it begins share it.
type turn struct {
	done chan struct{}
	err  error // once done
}

// Refresh advises a plant at once and puts that in force, counting in all that was in the ledger when it
// was called. Of the refreshes of one plant one goes at a time and at most one waits, which everyone who
// asks meanwhile shares. A failure is logged here; the plant stays due and a later run tries again.
func (j *Jobs) Refresh(ctx context.Context, plant string) error {
	t, err := j.turn(plant)
	if err != nil {
		return err
	}
	select {
	case <-t.done:
		return t.err
	case <-ctx.Done():
		return fault.Wrap(fault.Unavailable, ctx.Err(), "the new forecast was not waited for: it follows")
	}
}

// turn gives the next refresh of a plant that has not begun.
func (j *Jobs) turn(plant string) (*turn, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.stopped {
		return nil, fault.New(fault.Unavailable, "the service is stopping: the forecast follows at its next start")
	}
	waiting, going := j.turns[plant]
	if waiting != nil {
		return waiting, nil
	}
	next := &turn{done: make(chan struct{})}
	if going {
		j.turns[plant] = next
		return next, nil
	}
	j.turns[plant] = nil
	j.running.Go(func() { j.takeTurns(plant, next) })
	return next, nil
}

// takeTurns refreshes a plant until no turn waits.
func (j *Jobs) takeTurns(plant string, t *turn) {
	for t != nil {
		j.slots <- struct{}{}
		t.err = j.refresh(plant)
		<-j.slots
		close(t.done)
		t = j.nextTurn(plant)
	}
}

func (j *Jobs) nextTurn(plant string) *turn {
	j.mu.Lock()
	defer j.mu.Unlock()
	next := j.turns[plant]
	if next == nil {
		delete(j.turns, plant)
	} else {
		j.turns[plant] = nil
	}
	return next
}

func (j *Jobs) refresh(plant string) (err error) {
	begun := time.Now()
	defer func() {
		if p := recover(); p != nil {
			err = fault.Wrap(fault.Internal, fmt.Errorf("%v\n%s", p, debug.Stack()), "the forecast failed of a fault in the program")
		}
		j.told(plant, err, time.Since(begun))
	}()
	_, err = j.adviser.Plant(j.ctx, plant)
	return err
}

// told logs a refresh.
func (j *Jobs) told(plant string, err error, took time.Duration) {
	log := j.log.With("plant", plant, "duration_ms", took.Milliseconds())
	switch {
	case err == nil:
		log.Info("forecast of one plant")
	case j.ctx.Err() != nil: // given up at a stop
	default:
		log.Error("forecast of one plant failed; where it is still due it is tried again within the hour", "error", err)
	}
	if away(err) {
		j.looks.repeat()
	}
}

// refreshing tells whether a plant is being refreshed now.
func (j *Jobs) refreshing(plant string) bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	_, going := j.turns[plant]
	return going
}
