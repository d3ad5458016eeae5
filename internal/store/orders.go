package store

import (
	"context"
	"database/sql"

	"overwinter/internal/inventory"
)

// OrdersWritten gives every row of a plant's orders: see inventory.OrderReader.
func (db *DB) OrdersWritten(ctx context.Context, plant string) (rows []inventory.OrderWritten, err error) {
	err = db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.ordersWritten, plant)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		orders := tableOf(inventory.KindOrder)
		for found.Next() {
			w := inventory.OrderWritten{Order: &inventory.Order{}}
			if err := found.Scan(append(fields(orders.columns(w.Order)), instant(&w.RecordedAt))...); err != nil {
				return err
			}
			rows = append(rows, w)
		}
		return found.Err()
	})
	return rows, err
}
