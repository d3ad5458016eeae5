package intake

import (
	"context"
	"time"
)

// refreshFor is how long a plant's new advice may take. It goes on when the sender has hung up: what was
// written is written.
const refreshFor = 2 * time.Minute

// advised brings the plant's advice up to date where it must, and tells whether it counts the report in.
// A report that had come before asks for new advice only where the advice lags behind it.
func (d *Desk) advised(ctx context.Context, plant string, at time.Time, fresh bool) bool {
	if !fresh && !d.lags(ctx, plant, at) {
		return true
	}
	if d.Refresh == nil {
		return false
	}
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), refreshFor)
	defer cancel()
	if err := d.Refresh.Refresh(ctx, plant); err != nil {
		d.behind.Store(plant, true)
		return false
	}
	d.behind.Delete(plant)
	return true
}

// lags tells whether the advice in force is older than a moment that was reported, or is known to be.
func (d *Desk) lags(ctx context.Context, plant string, at time.Time) bool {
	if _, behind := d.behind.Load(plant); behind {
		return true
	}
	if d.Advice == nil {
		return false
	}
	in, err := d.Advice.InForce(ctx)
	if err != nil {
		return true
	}
	a, err := in.Plant(plant)
	return err != nil || (!at.IsZero() && (a.Stock.Newest == nil || a.Stock.Newest.Before(at)))
}
