package inventory

import (
	"context"
	"time"

	"overwinter/internal/calendar"
)

// Issued is advice for one plant as it was issued. It is kept word for word so that what was said can
// be shown again and scored later.
type Issued struct {
	Plant         string
	AsOf          calendar.Day // the plant's local day that the advice is for
	ModelVersion  string
	InputsVersion string // identifies the ledger rows that it was made from
	Seed          uint64
	IssuedAt      time.Time
	Body          []byte // JSON
}

// IssuedStore keeps advice as issued.
type IssuedStore interface {
	// SaveAdvice keeps advice under its plant, day, model version, inputs version and seed. Where that is
	// kept already nothing changes: the first body and moment of issue stay. A body that is not JSON is
	// fault.Invalid.
	SaveAdvice(ctx context.Context, issued Issued) error
	// Advice gives a plant's advice, newest first: by day, then by moment of issue (milliseconds, UTC).
	Advice(ctx context.Context, plant string) ([]Issued, error)
}
