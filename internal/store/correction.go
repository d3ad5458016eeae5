package store

import (
	"context"
	"database/sql"
	"slices"

	"overwinter/internal/inventory"
)

// corrections judges which rows may replace the ones that they name.
type corrections struct {
	*writer
	table       table
	stored      *sql.Stmt // a ledger row by its key
	replacement *sql.Stmt // the key of the row that replaces a key

	batch map[string]row    // the rows to be written, by key
	by    map[string]string // in the batch: the key that replaces a key
}

// checkCorrections gives the rows that replace nothing or what they may. Of the others it says what is wrong.
func (w *writer) checkCorrections(ctx context.Context, t table, text kindStatements, rows []row) ([]row, error) {
	if !slices.ContainsFunc(rows, func(r row) bool { return r.record.Base().Replaces != "" }) {
		return rows, nil
	}
	c := corrections{writer: w, table: t, batch: map[string]row{}, by: map[string]string{}}
	for _, r := range rows {
		c.batch[r.key] = r
	}
	var err error
	if c.stored, err = w.tx.PrepareContext(ctx, text.row); err != nil {
		return nil, err
	}
	defer func() { _ = c.stored.Close() }() // closed with the transaction in any case
	if c.replacement, err = w.tx.PrepareContext(ctx, text.replacement); err != nil {
		return nil, err
	}
	defer func() { _ = c.replacement.Close() }() // likewise

	var sound []row
	for _, r := range rows {
		wrong, err := c.check(ctx, r)
		if err != nil {
			return nil, err
		}
		if wrong == "" {
			sound = append(sound, r)
		} else {
			w.refuse(r.where(), "%s", wrong)
		}
	}
	return sound, nil
}

// check says what is wrong with a row's correction; nothing if all is well.
func (c *corrections) check(ctx context.Context, r row) (wrong string, err error) {
	old := r.record.Base().Replaces
	if old == "" {
		return "", nil
	}
	replaced, err := c.find(ctx, old)
	switch {
	case err != nil:
		return "", err
	case replaced == nil:
		return "the " + string(c.table.kind) + " " + old + " that it replaces is not in the ledger", nil
	case replaced.PlantID() != r.record.PlantID():
		return "the row " + old + " that it replaces belongs to the plant " + replaced.PlantID() +
			": withdraw that row and send a new one", nil
	case c.inRing(r.key):
		return "it and the row " + old + " replace each other", nil
	}
	other, err := c.replacedBy(ctx, old)
	if err != nil {
		return "", err
	}
	if other != "" && other != r.key {
		return c.overtaken(ctx, old, other)
	}
	c.by[old] = r.key
	return "", nil
}

// overtaken says that a row is replaced by another already, and which row stands in its place by now.
func (c *corrections) overtaken(ctx context.Context, old, other string) (wrong string, err error) {
	wrong = "the row " + old + " that it replaces is already replaced by " + other
	last := other
	for next := other; next != ""; {
		last = next
		if next, err = c.replacedBy(ctx, last); err != nil {
			return "", err
		}
	}
	row, err := c.find(ctx, last)
	switch {
	case err != nil:
		return "", err
	case row != nil && row.Base().Void:
		return wrong + ": it was withdrawn by " + last + ", and nothing stands in its place", nil
	case last != other:
		return wrong + ", and " + last + " is in force by now: replace that one", nil
	}
	return wrong + ": replace that one", nil
}

// find looks for a row in the batch and in the ledger, nil if it is in neither.
func (c *corrections) find(ctx context.Context, key string) (inventory.Record, error) {
	if r, ok := c.batch[key]; ok {
		return r.record, nil
	}
	record := c.table.empty()
	found, err := one(c.stored.QueryRowContext(ctx, key), fields(c.table.columns(record))...)
	if !found {
		return nil, err
	}
	return record, nil
}

func (c *corrections) replacedBy(ctx context.Context, key string) (by string, err error) {
	if by := c.by[key]; by != "" {
		return by, nil
	}
	_, err = one(c.replacement.QueryRowContext(ctx, key), &by)
	return by, err
}

// inRing follows what is replaced through the batch and tells whether the way leads back to its start.
func (c *corrections) inRing(start string) bool {
	key := start
	for range c.batch {
		key = c.batch[key].record.Base().Replaces
		if key == start {
			return true
		}
		if _, ok := c.batch[key]; !ok {
			return false
		}
	}
	return false
}
