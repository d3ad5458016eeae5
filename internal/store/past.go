package store

import (
	"context"
	"database/sql"
	"time"

	"overwinter/internal/inventory"
)

// past is the ledger at an earlier version.
type past struct {
	db      *DB
	version int64
}

// AsKnown gives the ledger as it was at a version: see inventory.History.
func (db *DB) AsKnown(version int64) inventory.RowReader { return past{db, version} }

// Directory gives what was in force then.
func (p past) Directory(ctx context.Context) (rows inventory.Rows, err error) {
	err = p.read(ctx, func(tx *sql.Tx, upTo int64) error {
		rows, err = p.db.directory(ctx, tx, upTo)
		return err
	})
	return rows, err
}

// PlantRows gives what was in force then.
func (p past) PlantRows(ctx context.Context, plant string, before time.Time) (inventory.Rows, error) {
	return p.RecentRows(ctx, plant, always, before)
}

// RecentRows gives what was in force then.
func (p past) RecentRows(ctx context.Context, plant string, from, before time.Time) (rows inventory.Rows, err error) {
	err = p.read(ctx, func(tx *sql.Tx, upTo int64) error {
		rows, err = p.db.plantRows(ctx, tx, plant, from, before, upTo)
		return err
	})
	return rows, err
}

func (p past) read(ctx context.Context, do func(tx *sql.Tx, upTo int64) error) error {
	return p.db.read(ctx, func(tx *sql.Tx) error {
		upTo, err := p.db.positionOf(ctx, tx, p.version)
		if err != nil {
			return err
		}
		return do(tx, upTo)
	})
}
