package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// SaveAdvice keeps advice as it was issued: see inventory.IssuedStore.
func (db *DB) SaveAdvice(ctx context.Context, issued inventory.Issued) error {
	if !json.Valid(issued.Body) {
		return fault.New(fault.Invalid, "the advice for the plant %s is not JSON", issued.Plant)
	}
	body := string(issued.Body)
	var values []any
	for _, c := range issuedColumns(&issued, &body) {
		value, err := stored(c.field)
		if err != nil {
			return fault.New(fault.Invalid, "the advice cannot be kept").
				With(fault.Field{Where: c.name, Message: err.Error()})
		}
		values = append(values, value)
	}
	return db.write(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, db.text.insertAdvice, values...)
		return err
	})
}

// Advice gives a plant's advice, newest first: see inventory.IssuedStore.
func (db *DB) Advice(ctx context.Context, plant string) ([]inventory.Issued, error) {
	var all []inventory.Issued
	err := db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.adviceOfPlant, plant)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var issued inventory.Issued
			var body string
			if err := found.Scan(fields(issuedColumns(&issued, &body))...); err != nil {
				return err
			}
			issued.Body = []byte(body)
			all = append(all, issued)
		}
		return found.Err()
	})
	return all, err
}

// issuedColumns binds the columns of sql/queries/advice.sql in their order. The body is kept as text.
func issuedColumns(a *inventory.Issued, body *string) []column {
	return []column{
		{"plant", &a.Plant}, {"as_of", day(&a.AsOf)},
		{"model_version", &a.ModelVersion}, {"inputs_version", &a.InputsVersion},
		{"seed", bits(&a.Seed)}, {"issued_ms", instant(&a.IssuedAt)}, {"body", body},
	}
}
