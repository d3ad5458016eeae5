package store

import (
	"context"
	"database/sql"
	"maps"
	"slices"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// version is one write of new rows: the ledger held the rows up to the position from then on.
type version struct {
	number, position, recordedMS int64
}

// querier is a transaction, or the pool.
type querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// findVersion reads one version; that before the first write is 0.
func findVersion(ctx context.Context, on querier, query string, args ...any) (v version, found bool, err error) {
	found, err = one(on.QueryRowContext(ctx, query, args...), &v.number, &v.position, &v.recordedMS)
	return v, found, err
}

func lastVersion(ctx context.Context, on querier, query string) (version, error) {
	v, _, err := findVersion(ctx, on, query)
	return v, err
}

// Version counts the writes that brought new rows: see inventory.Reader.
func (db *DB) Version(ctx context.Context) (int64, error) {
	v, err := lastVersion(ctx, db.sql, db.text.lastVersion)
	return v.number, db.fault(ctx, err)
}

// VersionAt gives the version of a moment: see inventory.History.
func (db *DB) VersionAt(ctx context.Context, at time.Time) (inventory.LedgerVersion, error) {
	v, _, err := findVersion(ctx, db.sql, db.text.versionByTime, at.UnixMilli())
	if err != nil || v.number == 0 {
		return inventory.LedgerVersion{}, db.fault(ctx, err)
	}
	return inventory.LedgerVersion{Number: v.number, RecordedAt: time.UnixMilli(v.recordedMS).UTC()}, nil
}

// positionOf gives the last position of a version.
func (db *DB) positionOf(ctx context.Context, on querier, number int64) (int64, error) {
	if number == 0 {
		return 0, nil
	}
	v, found, err := findVersion(ctx, on, db.text.version, number)
	if err == nil && !found {
		err = fault.New(fault.NotFound, "the ledger has no version %d", number)
	}
	return v.position, err
}

// noteChanges makes a new version of the ledger where there are new rows. Writers stand in line, so
// versions and positions rise in the order in which they can be read, and so does a version's time.
func (w *writer) noteChanges(ctx context.Context) error {
	if w.done.New == 0 {
		return nil
	}
	next := version{w.last.number + 1, w.last.position + int64(w.done.New), max(w.last.recordedMS, w.recordedMS)}
	if _, err := w.tx.ExecContext(ctx, w.text.insertVersion, next.number, next.position, next.recordedMS); err != nil {
		return err
	}
	note, err := w.tx.PrepareContext(ctx, w.text.noteChange)
	if err != nil {
		return err
	}
	defer func() { _ = note.Close() }() // closed with the transaction in any case
	for _, plant := range slices.Sorted(maps.Keys(w.changed)) {
		if _, err := note.ExecContext(ctx, plant, next.number); err != nil {
			return err
		}
	}
	return nil
}
