package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
)

// Record writes all rows or none: see inventory.Recorder. Instants are kept in UTC and to the
// millisecond, so two rows that differ in nothing else are the same.
func (db *DB) Record(ctx context.Context, rows inventory.Rows, recordedAt time.Time) (inventory.Recorded, error) {
	return db.record(ctx, rows, recordedAt, func(w *writer) error { return w.addAll(ctx) })
}

// Rehearse does what Record does and takes it back: see inventory.Recorder.
func (db *DB) Rehearse(ctx context.Context, rows inventory.Rows, recordedAt time.Time) (inventory.Recorded, error) {
	return db.record(ctx, rows, recordedAt, func(w *writer) error {
		if err := w.addAll(ctx); err != nil {
			return err
		}
		return errRehearsed
	})
}

// errRehearsed gives a transaction up that found nothing wrong.
var errRehearsed = errors.New("rehearsed")

// record writes rows within one transaction, which is given up where the work returns an error.
func (db *DB) record(ctx context.Context, rows inventory.Rows, recordedAt time.Time, work func(*writer) error) (inventory.Recorded, error) {
	b, err := prepare(rows)
	if err != nil {
		return inventory.Recorded{}, err
	}
	var w writer
	err = db.write(ctx, func(tx dialect.Tx) error {
		w = writer{engine: db.engine, tx: tx, batch: b, conflicts: b.conflicts, changed: map[string]bool{}, text: db.text, recordedMS: recordedAt.UnixMilli()}
		w.done.Known = b.repeated
		return work(&w)
	})
	if err != nil && !errors.Is(err, errRehearsed) {
		return inventory.Recorded{}, err
	}
	return w.done, nil
}

// writer adds rows within one transaction. What conflicts is gathered, so that all of it can be told
// at once; the transaction is then given up.
type writer struct {
	engine     dialect.Dialect
	tx         dialect.Tx
	batch      batch
	done       inventory.Recorded
	conflicts  []fault.Field
	changed    map[string]bool // plants that have new rows
	last       version         // of the ledger before the write
	text       statements
	recordedMS int64
}

// addAll writes the batch and notes what has changed by it.
func (w *writer) addAll(ctx context.Context) (err error) {
	if w.last, err = lastVersion(ctx, w.tx, w.text.lastVersion); err != nil {
		return err
	}
	for _, t := range tables {
		if rows := w.batch.rows[t.kind]; rows != nil {
			if err := w.add(ctx, t, rows); err != nil {
				return err
			}
		}
	}
	if w.conflicts != nil {
		return fault.New(fault.Conflict, "rows conflict with the ledger: nothing was written").With(w.conflicts...)
	}
	return w.noteChanges(ctx)
}

func (w *writer) refuse(where, format string, args ...any) {
	w.conflicts = append(w.conflicts, fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

// add writes the rows of one kind.
func (w *writer) add(ctx context.Context, t table, rows []row) error {
	text := w.text.kinds[t.kind]
	sound, err := w.checkCorrections(ctx, t, text, rows)
	if err != nil {
		return err
	}
	// Neighbouring keys lie side by side in the table, so in order of keys they are written faster.
	slices.SortFunc(sound, func(a, b row) int { return cmp.Compare(a.key, b.key) })
	there, err := w.load(ctx, t, text, sound)
	if err != nil {
		return err
	}
	w.compare(sound, there)
	if t.kind == inventory.KindTank {
		if err := w.addPoints(ctx, w.text.insertPoint, sound, there); err != nil {
			return err
		}
	}
	if text.shared != "" {
		return w.checkIdentities(ctx, t, text, sound)
	}
	return nil
}

// atOnce is how many rows are given to the engine at a time: enough that the call costs nothing beside them, few
// enough that their values fit in little memory.
const atOnce = 10_000

// load inserts rows and gives the digests of those that were in the table before.
func (w *writer) load(ctx context.Context, t table, text kindStatements, rows []row) (map[string]string, error) {
	all := map[string]string{}
	for part := range slices.Chunk(rows, atOnce) {
		batch := dialect.Batch{
			Table:   t.name,
			Columns: append(t.columnNames(), writtenOnly...),
			Insert:  text.insert,
			Digest:  text.digest,
			First:   w.last.position + int64(w.done.New) + 1,
		}
		for _, r := range part {
			values, err := r.values(t, w.recordedMS)
			if err != nil {
				return nil, err
			}
			batch.Rows = append(batch.Rows, values)
		}
		there, err := w.engine.Load(ctx, w.tx, batch)
		if err != nil {
			return nil, err
		}
		w.done.New += len(part) - len(there)
		maps.Copy(all, there)
	}
	for _, r := range rows {
		if _, known := all[r.key]; !known {
			w.changed[r.record.PlantID()] = true
		}
	}
	return all, nil
}

// compare tells rows that are known from keys that are used for something else.
func (w *writer) compare(rows []row, there map[string]string) {
	for _, r := range rows {
		switch stored, found := there[r.key]; {
		case !found:
		case stored == r.digest:
			w.done.Known++
		default:
			w.refuse(r.where(), "the key is already used with other content: send a correction with its own key that replaces it")
		}
	}
}

// checkIdentities finds rows of the directory that say the same thing twice, such as two plants with one id.
func (w *writer) checkIdentities(ctx context.Context, t table, text kindStatements, added []row) error {
	found, err := w.tx.QueryContext(ctx, text.shared)
	if err != nil {
		return err
	}
	defer func() { _ = found.Close() }() // read to its end below
	isAdded := map[string]bool{}
	for _, r := range added {
		isAdded[r.key] = true
	}
	for found.Next() {
		var key, other string
		if err := found.Scan(&key, &other); err != nil {
			return err
		}
		if !isAdded[key] {
			key, other = other, key
		}
		w.refuse(place(t.kind, key), "the row %s stands for the same %s already: send a row that replaces it",
			other, t.kind)
	}
	return found.Err()
}

// one scans a single row; found is false where there is none.
func one(row *sql.Row, into ...any) (found bool, err error) {
	err = row.Scan(into...)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}
