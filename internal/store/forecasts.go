package store

import (
	"context"
	"database/sql"
	"encoding/json"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/store/dialect"
)

// SaveForecast keeps a forecast as it was issued: see inventory.ForecastStore.
func (db *DB) SaveForecast(ctx context.Context, issued inventory.IssuedForecast) error {
	if !json.Valid(issued.Body) {
		return fault.New(fault.Invalid, "the forecast for the plant %s is not JSON", issued.Plant)
	}
	month, body := issued.Month(), string(issued.Body)
	var values []any
	for _, c := range forecastColumns(&issued, &month, &body) {
		value, err := stored(c.field)
		if err != nil {
			return fault.New(fault.Invalid, "the forecast cannot be kept").
				With(fault.Field{Where: c.name, Message: err.Error()})
		}
		values = append(values, value)
	}
	return db.write(ctx, func(tx dialect.Tx) error {
		_, err := tx.ExecContext(ctx, db.text.insertForecast, values...)
		return err
	})
}

// Forecasts gives a plant's forecasts as they were issued: see inventory.ForecastStore.
func (db *DB) Forecasts(ctx context.Context, plant string) ([]inventory.IssuedForecast, error) {
	var all []inventory.IssuedForecast
	err := db.read(ctx, func(tx *sql.Tx) error {
		found, err := tx.QueryContext(ctx, db.text.forecasts, plant)
		if err != nil {
			return err
		}
		defer func() { _ = found.Close() }() // read to its end below
		for found.Next() {
			var issued inventory.IssuedForecast
			var month calendar.Month // follows from the origin
			var body string
			if err := found.Scan(fields(forecastColumns(&issued, &month, &body))...); err != nil {
				return err
			}
			issued.Body = []byte(body)
			all = append(all, issued)
		}
		return found.Err()
	})
	return all, err
}

// forecastColumns binds the columns of sql/queries/forecasts.sql in their order. The body is kept as text.
func forecastColumns(f *inventory.IssuedForecast, month *calendar.Month, body *string) []column {
	return []column{
		{"plant", &f.Plant}, {"month", monthText(month)}, {"origin", day(&f.Origin)}, {"issued_ms", instant(&f.IssuedAt)},
		{"ledger_version", &f.Ledger}, {"model_version", &f.ModelVersion}, {"inputs_version", &f.InputsVersion},
		{"seed", bits(&f.Seed)}, {"body", body},
	}
}
