package store

import (
	"context"
	"database/sql"

	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
	"overwinter/internal/tanks"
)

// addPoints writes the capacity tables of the tanks that were not there before.
func (w *writer) addPoints(ctx context.Context, insert string, rows []row, there map[string]string) error {
	batch := dialect.Batch{
		Table:   "capacity_points",
		Columns: []string{"tank_key", "point", "depth_mm", "volume_l"},
		Insert:  insert,
	}
	for _, r := range rows {
		if _, known := there[r.key]; known {
			continue
		}
		for i, p := range r.record.(*inventory.Tank).Table {
			batch.Rows = append(batch.Rows, []any{r.key, int64(i), float64(p.Depth), float64(p.Volume)})
		}
	}
	_, err := w.engine.Load(ctx, w.tx, batch)
	return err
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
