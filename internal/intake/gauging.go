package intake

import (
	"context"
	"time"
)

// Gauging writes one measurement of one tank.
func (d *Desk) Gauging(ctx context.Context, r Report, at time.Time, t TankEntry) (Receipt, error) {
	key := rowKey("gauging", r.Plant, r.Key)
	s, err := d.open(ctx, "gauging", key, r)
	if err != nil {
		return Receipt{}, err
	}
	at = s.moment(at)
	e := s.entry(key)
	e.Replaces, e.Void = t.Replaces, t.Withdraw
	s.add(gauging(e, r.Plant, t, at), asIs)
	return s.file(ctx, at)
}

// file writes a sheet that speaks of a moment.
func (s *sheet) file(ctx context.Context, at time.Time) (Receipt, error) {
	held, err := s.hold(ctx, at)
	if err != nil {
		return Receipt{}, err
	}
	done, err := s.write(ctx)
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, held.doubts(ctx)), nil
}
