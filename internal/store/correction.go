package store

import (
	"context"
	"database/sql"
	"slices"
)

// Whether a row may replace the one that it names is judged in two steps, so that rows of one write may stand in
// any order and none has to be kept in memory. That nothing else replaces it must be known before the row is
// written, since the table refuses a second one. The rest is asked of the database once all rows are there.

// notYetReplaced gives the rows that replace nothing, or what no other row replaces.
func (w *writer) notYetReplaced(ctx context.Context, t table, text kindStatements, rows []row) ([]row, error) {
	if !slices.ContainsFunc(rows, func(r row) bool { return r.replaces() != "" }) {
		return rows, nil
	}
	replacement, err := w.tx.PrepareContext(ctx, text.replacement)
	if err != nil {
		return nil, err
	}
	defer func() { _ = replacement.Close() }() // closed with the transaction in any case
	here := map[string]string{}                // among these rows: the key that replaces a key
	var sound []row
	for _, r := range rows {
		old := r.replaces()
		if old == "" {
			sound = append(sound, r)
			continue
		}
		by := here[old]
		if _, err := one(replacement.QueryRowContext(ctx, old), &by); err != nil {
			return nil, err
		}
		if by != "" && by != r.key {
			advice, err := w.inPlaceOf(ctx, t, text, replacement, by)
			if err != nil {
				return nil, err
			}
			w.refuse(r.where(), "the row %s that it replaces is already replaced by %s%s", old, by, advice)
			continue
		}
		here[old] = r.key
		sound = append(sound, r)
	}
	return sound, nil
}

// inPlaceOf says which row stands by now in the place of one that was replaced by another.
func (w *writer) inPlaceOf(ctx context.Context, t table, text kindStatements, replacement *sql.Stmt, by string) (advice string, err error) {
	last := by
	for next := by; next != ""; {
		last, next = next, ""
		if _, err := one(replacement.QueryRowContext(ctx, last), &next); err != nil {
			return "", err
		}
	}
	row := t.empty()
	found, err := one(w.tx.QueryRowContext(ctx, text.row, last), fields(t.columns(row))...)
	switch {
	case err != nil:
		return "", err
	case found && row.Base().Void:
		return ": it was withdrawn by " + last + ", and nothing stands in its place", nil
	case last != by:
		return ", and " + last + " is in force by now: replace that one", nil
	}
	return ": replace that one", nil
}

// checkCorrections judges the new rows of a kind that replace others.
func (w *writer) checkCorrections(ctx context.Context, t table, text kindStatements) error {
	refused := map[string]bool{} // rows that were not written
	for _, f := range w.conflicts {
		refused[f.Where] = true
	}
	lost, err := w.pairs(ctx, text.lost, w.last.position)
	if err != nil {
		return err
	}
	for _, c := range lost {
		if !refused[place(t.kind, c[1])] {
			w.refuse(place(t.kind, c[0]), "the %s %s that it replaces is not in the ledger", t.kind, c[1])
		}
	}
	stray, err := w.pairs(ctx, text.stray, w.last.position)
	if err != nil {
		return err
	}
	for _, c := range stray {
		old := t.empty()
		if _, err := one(w.tx.QueryRowContext(ctx, text.row, c[1]), fields(t.columns(old))...); err != nil {
			return err
		}
		w.refuse(place(t.kind, c[0]), "the row %s that it replaces belongs to the plant %s: withdraw that row and send a new one", c[1], old.PlantID())
	}
	rings, err := w.pairs(ctx, text.rings, w.last.position)
	if err != nil {
		return err
	}
	for _, c := range rings {
		w.refuse(place(t.kind, c[0]), "it and the row %s replace each other", c[1])
	}
	return nil
}
