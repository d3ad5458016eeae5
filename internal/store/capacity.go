package store

import (
	"context"
	"database/sql"

	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
	"overwinter/internal/tanks"
)

// addPoints writes the capacity tables of new tanks.
func (w *writer) addPoints(ctx context.Context, insert string, added []row) error {
	batch := dialect.Batch{
		Table:   "capacity_points",
		Columns: []string{"tank_key", "point", "depth_mm", "volume_l"},
		Insert:  insert,
	}
	for i, r := range added {
		for n, p := range r.record.(*inventory.Tank).Table {
			batch.Rows = append(batch.Rows, []any{r.key, int64(n), float64(p.Depth), float64(p.Volume)})
		}
		if len(batch.Rows) < atOnce && i < len(added)-1 {
			continue
		}
		if _, err := w.engine.Load(ctx, w.tx, batch); err != nil {
			return err
		}
		batch.Rows = batch.Rows[:0]
	}
	return nil
}

// readPoints gives tanks their capacity tables.
func (db *DB) readPoints(ctx context.Context, tx *sql.Tx, all []*inventory.Tank, upTo int64) error {
	byKey := make(map[string]*inventory.Tank, len(all))
	for _, t := range all {
		byKey[t.Key] = t
	}
	found, err := tx.QueryContext(ctx, db.text.points, upTo)
	if err != nil {
		return err
	}
	defer func() { _ = found.Close() }() // read to its end below
	for found.Next() {
		var key string
		var p tanks.Point
		if err := found.Scan(&key, &p.Depth, &p.Volume); err != nil {
			return err
		}
		byKey[key].Table = append(byKey[key].Table, p)
	}
	return found.Err()
}
