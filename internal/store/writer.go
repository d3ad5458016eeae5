package store

import (
	"context"
	"fmt"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
)

// writer adds rows within one transaction. What is wrong is gathered, so that it can be told at once; the
// transaction is then given up.
type writer struct {
	engine     dialect.Dialect
	tx         dialect.Tx
	text       statements
	recordedMS int64
	last       version // of the ledger before the write

	done      inventory.Recorded
	wrong     []fault.Field
	conflicts []fault.Field
	changed   map[string]bool         // plants that have new rows
	fresh     map[inventory.Kind]bool // kinds that have new rows
	corrected map[inventory.Kind]bool // kinds of which a new row replaces another
	standing  standing
}

// mostNamed is how many rows are named that are wrong or in conflict. Then the rest of the stream is not looked
// at: so many have a common cause.
const mostNamed = 200

// addAll writes a stream and notes what has changed by it.
func (w *writer) addAll(ctx context.Context, rows inventory.Stream) (err error) {
	if w.last, err = lastVersion(ctx, w.tx, w.text.lastVersion); err != nil {
		return err
	}
	for c := range ahead(chunks(rows, w.recordedMS)) {
		if err := w.addChunk(ctx, c); err != nil {
			return err
		}
		if len(w.wrong) >= mostNamed || len(w.conflicts) >= mostNamed {
			return w.verdict()
		}
	}
	if w.wrong == nil {
		if err := w.checkWhole(ctx); err != nil {
			return err
		}
	}
	if err := w.verdict(); err != nil {
		return err
	}
	if err := w.notInForce(ctx); err != nil {
		return err
	}
	return w.noteChanges(ctx)
}

// addChunk writes a part of the stream. Once a value cannot be kept nothing more is written, but looked through
// for others.
func (w *writer) addChunk(ctx context.Context, c *chunk) error {
	if c.failure != nil {
		return c.failure
	}
	if w.wrong = append(w.wrong, c.wrong...); w.wrong != nil {
		return ctx.Err()
	}
	w.conflicts = append(w.conflicts, c.conflicts...)
	w.done.Known += c.repeated
	for _, t := range tables {
		if rows := c.rows[t.kind]; rows != nil {
			if err := w.add(ctx, t, rows); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkWhole looks for what only shows once all rows are there.
func (w *writer) checkWhole(ctx context.Context) error {
	for _, t := range tables {
		text := w.text.kinds[t.kind]
		if w.corrected[t.kind] {
			if err := w.checkCorrections(ctx, t, text); err != nil {
				return err
			}
		}
		if w.fresh[t.kind] && text.shared != "" {
			if err := w.checkIdentities(ctx, t, text); err != nil {
				return err
			}
		}
	}
	if w.fresh[inventory.KindDegreeDays] {
		return w.checkDegreeDays(ctx)
	}
	return nil
}

// verdict gives what is wrong with the stream as one error, nil if all is well.
func (w *writer) verdict() error {
	kind, message, fields := fault.Conflict, "rows conflict with the ledger: nothing was written", w.conflicts
	if w.wrong != nil {
		kind, message, fields = fault.Invalid, "rows cannot be kept: nothing was written", w.wrong
	}
	if fields == nil {
		return nil
	}
	if len(fields) > mostNamed {
		fields = fields[:mostNamed]
		message += fmt.Sprintf("; there are more than the %d that are named", mostNamed)
	}
	return fault.New(kind, "%s", message).With(fields...)
}

func (w *writer) refuse(where, format string, args ...any) {
	w.conflicts = append(w.conflicts, fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

// add writes some rows of one kind.
func (w *writer) add(ctx context.Context, t table, rows []row) error {
	text := w.text.kinds[t.kind]
	rows, err := w.notYetReplaced(ctx, t, text, rows)
	if err != nil {
		return err
	}
	there, err := w.load(ctx, t, text, rows)
	if err != nil {
		return err
	}
	fresh := rows[:0]
	for _, r := range rows {
		w.standing.passed(r.record)
		if kept, found := there[r.key]; found {
			w.compare(r, kept)
			continue
		}
		fresh = append(fresh, r)
		w.changed[r.record.PlantID()] = true
		w.fresh[t.kind] = true
		if r.replaces() != "" {
			w.corrected[t.kind] = true
		}
	}
	w.done.New += len(fresh)
	if t.kind == inventory.KindTank {
		return w.addPoints(ctx, w.text.insertPoint, fresh)
	}
	return nil
}

// load inserts rows and gives those that were in the table before.
func (w *writer) load(ctx context.Context, t table, text kindStatements, rows []row) (map[string]dialect.Kept, error) {
	batch := dialect.Batch{
		Table:   t.name,
		Columns: append(t.columnNames(), writtenOnly...),
		Insert:  text.insert,
		Digest:  text.digest,
		First:   w.last.position + int64(w.done.New) + 1,
		Rows:    make([][]any, len(rows)),
	}
	for i, r := range rows {
		batch.Rows[i] = r.values
	}
	return w.engine.Load(ctx, w.tx, batch)
}

// compare tells a row that is known from a key that is used for something else.
func (w *writer) compare(r row, kept dialect.Kept) {
	switch {
	case kept.Digest == r.digest:
		w.done.Known++
		w.standing.known(r.record, kept.Replaced)
	case kept.Position > w.last.position:
		w.refuse(r.where(), usedTwice)
	default:
		w.refuse(r.where(), "the key is already used with other content: send a correction with its own key that replaces it")
	}
}

// checkIdentities finds rows of the directory that say the same thing twice, such as two plants with one id.
func (w *writer) checkIdentities(ctx context.Context, t table, text kindStatements) error {
	pairs, err := w.pairs(ctx, text.shared)
	if err != nil {
		return err
	}
	for _, pair := range pairs {
		key, other, err := w.newerFirst(ctx, t, pair)
		if err != nil {
			return err
		}
		w.refuse(place(t.kind, key), "the row %s stands for the same %s already: send a row that replaces it", other, t.kind)
	}
	return nil
}

// newerFirst gives two keys of a kind, that of a new row first where the other was there before.
func (w *writer) newerFirst(ctx context.Context, t table, pair [2]string) (key, other string, err error) {
	var kept dialect.Kept
	if _, err := one(w.tx.QueryRowContext(ctx, w.text.kinds[t.kind].digest, pair[0]), &kept.Digest, &kept.Position, &kept.Replaced); err != nil {
		return "", "", err
	}
	if kept.Position <= w.last.position {
		return pair[1], pair[0], nil
	}
	return pair[0], pair[1], nil
}

// pairs gives the rows of a query for two texts, mostNamed at most.
func (w *writer) pairs(ctx context.Context, query string, args ...any) (all [][2]string, err error) {
	found, err := w.tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer func() { _ = found.Close() }() // what it could not read is told below
	for len(all) < mostNamed && found.Next() {
		var pair [2]string
		if err := found.Scan(&pair[0], &pair[1]); err != nil {
			return nil, err
		}
		all = append(all, pair)
	}
	return all, found.Err()
}
