package store

import (
	"context"

	"overwinter/internal/inventory"
)

// checkDegreeDays finds degree days of a climate group that share a day with others, or are of another base.
func (w *writer) checkDegreeDays(ctx context.Context) error {
	t := tableOf(inventory.KindDegreeDays)
	told := map[string]bool{} // a row may clash with the neighbours on both sides
	for _, clash := range []struct {
		query   string
		args    []any
		message string
	}{
		{w.text.degreeDaysTwice, nil, "the row %s has a day of the same group already: expected each day once; send a row that replaces it"},
		{w.text.degreeDaysOfOtherBase, []any{float64(inventory.SameBase)},
			"the row %s of the same group has another base: expected one base a group; withdraw the rows of the other, or convert these"},
	} {
		pairs, err := w.pairs(ctx, clash.query, clash.args...)
		if err != nil {
			return err
		}
		for _, pair := range pairs {
			key, other, err := w.newerFirst(ctx, t, pair)
			if err != nil {
				return err
			}
			if !told[key] {
				w.refuse(place(t.kind, key), clash.message, other)
			}
			told[key] = true
		}
	}
	return nil
}
