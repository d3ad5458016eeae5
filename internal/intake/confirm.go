package intake

import (
	"context"

	"overwinter/internal/inventory"
)

// Confirmation says that a row which looks wrong is right.
type Confirmation struct {
	Report
	Of  inventory.Kind
	Row string // its key
	Why string
}

// Confirm writes that a row is right, by whom and why: it counts from then on, whatever looks wrong about it. Both must be
// said, since what is confirmed is looked at by nobody again.
func (d *Desk) Confirm(ctx context.Context, c Confirmation) (Receipt, error) {
	key := rowKey("confirm", c.Plant, c.Key)
	s, err := d.open(ctx, "confirmation", key, c.Report)
	if err != nil {
		return Receipt{}, err
	}
	e := s.entry(key)
	e.Why = c.Why
	s.add(&inventory.Confirmation{Entry: e, Plant: c.Plant, Of: c.Of, Row: c.Row}, asIs)
	for _, said := range []struct{ where, text, want string }{
		{"who", c.Who, "the name of who looked at it once more"}, {"why", c.Why, "what it was held against, such as the log sheet"},
	} {
		if said.text == "" {
			s.refuse(said.where, "blank: expected %s", said.want)
		}
	}
	there, err := s.inForce(ctx, c.Of, c.Row)
	if err != nil {
		return Receipt{}, err
	}
	if !there && c.Row != "" {
		s.refuse("row", "there is no %s %q in force: it may have been corrected or withdrawn in the meantime; look at the books again", c.Of, c.Row)
	}
	done, err := s.write(ctx)
	if err != nil {
		return Receipt{}, err
	}
	return s.receipt(ctx, done, nil), nil
}

// inForce tells whether the plant has a row that no other replaces.
func (s *sheet) inForce(ctx context.Context, kind inventory.Kind, key string) (bool, error) {
	rows, err := s.Ledger.PlantRows(ctx, s.Plant, s.now.AddDate(0, 0, 2)) // whole days count as of their end in UTC
	if err != nil {
		return false, err
	}
	for r := range rows.All() {
		if r.Kind() == kind && r.Base().Key == key {
			return true, nil
		}
	}
	return false, nil
}
