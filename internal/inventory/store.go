package inventory

import (
	"context"
	"time"
)

// Recorded counts what a write did.
type Recorded struct {
	New   int // rows that were not there before
	Known int // rows that were there with the same content
}

// Recorder writes ledger rows.
type Recorder interface {
	// Record writes all rows or none. A key that is there with the same content counts as known; with
	// other content, or when a row is replaced a second time or the replaced row is missing, the error
	// is a conflict that names every such row, and nothing is written. recordedAt is kept with each row.
	Record(ctx context.Context, rows Rows, recordedAt time.Time) (Recorded, error)
}

// Reader reads the rows in force: those that no later row replaces, less the withdrawn ones.
type Reader interface {
	// Directory gives every plant, tank, meter, route, service and window, ordered by plant and id.
	Directory(ctx context.Context) (Rows, error)
	// PlantRows gives one plant's readings and movements that happened before the given instant, in
	// order of time, then key; the Rows hold no plants, tanks, meters or supply. Day-dated rows count
	// as happening at the end of their last day in UTC; orders are given whatever their dates are.
	PlantRows(ctx context.Context, plant string, before time.Time) (Rows, error)
}

// Store is the ledger's store.
type Store interface {
	Recorder
	Reader
}
