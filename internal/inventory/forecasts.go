package inventory

import (
	"context"
	"time"

	"overwinter/internal/calendar"
)

// IssuedForecast is a forecast of one plant's consumption as it was issued. It is kept word for word, so that
// it can be held against what happened.
type IssuedForecast struct {
	Plant         string
	Origin        calendar.Day // the forecast begins at its close
	IssuedAt      time.Time
	Ledger        int64 // the version of the ledger that it counts in
	ModelVersion  string
	InputsVersion string // identifies the ledger rows that it was made from
	Seed          uint64
	Body          []byte // JSON
}

// Month is that of the first day forecast.
func (f IssuedForecast) Month() calendar.Month { return calendar.MonthOf(f.Origin + 1) }

// ForecastStore keeps forecasts as issued: one for each plant and month.
type ForecastStore interface {
	// SaveForecast keeps a forecast under its plant and month. Where one is kept already, the first stays. A
	// body that is not JSON is fault.Invalid.
	SaveForecast(ctx context.Context, issued IssuedForecast) error
	// Forecasts gives a plant's forecasts in order of month.
	Forecasts(ctx context.Context, plant string) ([]IssuedForecast, error)
}
