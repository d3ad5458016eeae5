package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
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
	return db.write(ctx, func(tx dialect.Tx) error {
		if _, err := tx.ExecContext(ctx, db.text.insertAdvice, values...); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, db.text.moveCurrent, append(values[:len(values)-1], issued.Ledger)...)
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

// CurrentAdvice gives the advice in force that is newer than a revision: see inventory.IssuedStore.
func (db *DB) CurrentAdvice(ctx context.Context, seed uint64, after int64) ([]inventory.Current, error) {
	var all []inventory.Current
	err := db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.currentAdvice, bits(&seed), after)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var c inventory.Current
			var body string
			into := append(fields(issuedColumns(&c.Issued, &body)), &c.Ledger, &c.Revision)
			if err := found.Scan(into...); err != nil {
				return err
			}
			c.Body = []byte(body)
			all = append(all, c)
		}
		return found.Err()
	})
	return all, err
}

// AdviceInForce gives the advice in force without its bodies: see inventory.IssuedStore.
func (db *DB) AdviceInForce(ctx context.Context, seed uint64) ([]inventory.Issued, error) {
	var all []inventory.Issued
	err := db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.adviceInForce, bits(&seed))
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var issued inventory.Issued
			into := fields(issuedColumns(&issued, new(string)))
			into[len(into)-1] = &issued.Ledger // in the place of the body
			if err := found.Scan(into...); err != nil {
				return err
			}
			all = append(all, issued)
		}
		return found.Err()
	})
	return all, err
}

// AdviceRevision gives the highest revision of a seed: see inventory.IssuedStore.
func (db *DB) AdviceRevision(ctx context.Context, seed uint64) (revision int64, err error) {
	err = db.sql.QueryRowContext(ctx, db.text.adviceRevision, bits(&seed)).Scan(&revision)
	return revision, db.fault(ctx, err)
}

// CountsIn tells whether a plant's advice in force counts in all of the plant: see inventory.IssuedStore.
func (db *DB) CountsIn(ctx context.Context, seed uint64, plant string) (counted bool, err error) {
	err = db.sql.QueryRowContext(ctx, db.text.countsIn, bits(&seed), plant).Scan(&counted)
	return counted, db.fault(ctx, err)
}

// issuedColumns binds the columns of sql/queries/advice.sql in their order. The body is kept as text.
func issuedColumns(a *inventory.Issued, body *string) []column {
	return []column{
		{"plant", &a.Plant}, {"as_of", day(&a.AsOf)},
		{"model_version", &a.ModelVersion}, {"inputs_version", &a.InputsVersion},
		{"seed", bits(&a.Seed)}, {"issued_ms", instant(&a.IssuedAt)}, {"body", body},
	}
}
