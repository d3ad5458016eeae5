package store

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"overwinter/internal/inventory"
)

// rowID names a row of the ledger.
type rowID struct {
	kind inventory.Kind
	key  string
}

// standing gathers known rows in whose place others stand. A folder may hold a row beside its correction: that the
// correction is in force is then no news.
type standing struct {
	superseded map[rowID]string   // known rows, with the key of the row that replaces each
	sent       map[rowID]struct{} // rows that the stream itself replaces
}

func newStanding() standing { return standing{map[rowID]string{}, map[rowID]struct{}{}} }

// known notes a row that is there already, and the one that replaces it, "" for none.
func (s standing) known(r inventory.Record, by string) {
	if by != "" {
		s.superseded[rowID{r.Kind(), r.Base().Key}] = by
	}
}

// passed notes a row that is sent, known or new.
func (s standing) passed(r inventory.Record) {
	if old := r.Base().Replaces; old != "" {
		s.sent[rowID{r.Kind(), old}] = struct{}{}
	}
}

// notInForce tells of the known rows in whose place a row stands that was not sent.
func (w *writer) notInForce(ctx context.Context) error {
	maps.DeleteFunc(w.standing.superseded, func(id rowID, _ string) bool {
		_, sent := w.standing.sent[id]
		return sent
	})
	for id, by := range w.standing.superseded {
		t := tableOf(id.kind)
		successor := t.empty()
		if _, err := one(w.tx.QueryRowContext(ctx, w.text.kinds[id.kind].row, by), fields(t.columns(successor))...); err != nil {
			return err
		}
		w.done.NotInForce = append(w.done.NotInForce, inventory.Superseded{Kind: id.kind, Key: id.key, By: by, Withdrawn: successor.Base().Void})
	}
	slices.SortFunc(w.done.NotInForce, func(a, b inventory.Superseded) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Key, b.Key))
	})
	return nil
}

// lookUp finds which rows of a known report are not in force.
func (w *writer) lookUp(ctx context.Context, rows inventory.Rows) error {
	for record := range rows.All() {
		var by string
		if _, err := one(w.tx.QueryRowContext(ctx, w.text.kinds[record.Kind()].replacement, record.Base().Key), &by); err != nil {
			return err
		}
		w.standing.passed(record)
		w.standing.known(record, by)
	}
	return w.notInForce(ctx)
}
