package intake

import (
	"context"

	"overwinter/internal/inventory"
)

// holdCold refuses degree days of a day that is told already, or under another base than the others of the group.
func (s *sheet) holdCold(ctx context.Context, d *inventory.DegreeDays) error {
	rows, err := s.inForce(ctx)
	if err != nil {
		return err
	}
	for _, o := range rows.DegreeDays {
		switch {
		case o.Key == d.Key || o.Key == d.Replaces:
		case o.FirstDay <= d.LastDay && d.FirstDay <= o.LastDay:
			s.refuse("first_day", "the row %s of the same climate group goes from %s to %s: expected each day once; correct that row instead", o.Key, o.FirstDay, o.LastDay)
			return nil
		case !d.HasBaseOf(o):
			s.refuse("base", "%.2f °C, and the row %s of the same climate group has %.2f °C: expected one base a group", float64(d.Under), o.Key, float64(o.Under))
			return nil
		}
	}
	return nil
}
