package intake

import (
	"context"
	"time"
)

// refreshFor is how long a plant's new advice may take. It goes on when the sender has hung up: what was
// written is written.
const refreshFor = 2 * time.Minute

// advised brings the plant's advice up to date where it must, and tells whether it counts the report in.
// A report that had come before asks for new advice only where the advice in force leaves something out: its
// sender may have heard no answer since the service ended between the report and the forecast.
func (d *Desk) advised(ctx context.Context, plant string, fresh bool) bool {
	if !fresh && d.countsIn(ctx, plant) {
		return true
	}
	if d.Refresh == nil {
		return false
	}
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), refreshFor)
	defer cancel()
	return d.Refresh.Refresh(ctx, plant) == nil
}

func (d *Desk) countsIn(ctx context.Context, plant string) bool {
	if d.Advice == nil {
		return false
	}
	counted, err := d.Advice.CountsIn(ctx, plant)
	return err == nil && counted
}
