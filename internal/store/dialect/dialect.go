// Package dialect is the seam between the store and a database engine. Five things differ from
// engine to engine: how it is opened, what its errors mean, how many rows are loaded at once, how
// writers are kept apart, and how its tables are made. Everything else is one text of SQL.
package dialect

import (
	"context"
	"database/sql"

	"github.com/pressly/goose/v3"

	"overwinter/internal/fault"
)

// Dialect is one engine's side of the seam. An engine's Open gives the connection pool and its Dialect.
type Dialect struct {
	// Name of the engine, for messages.
	Name string
	// Classify says what sort of failure an error of the engine is; Internal if it is none of its own.
	Classify func(error) fault.Kind
	// Load inserts rows whose key is not there yet, and gives the keys that were there already. The keys
	// of a batch differ from each other.
	Load func(ctx context.Context, tx *sql.Tx, batch Batch) (there []string, err error)
	// Lock keeps other writers out until the transaction ends, so that what Record has checked still
	// holds when it commits.
	Lock func(ctx context.Context, tx *sql.Tx) error
	// Migrations gives the migrations of the engine, ready to run on the pool.
	Migrations func(*sql.DB) (*goose.Provider, error)
}

// Batch is rows for one table. Insert is the text that inserts one row and passes over a key that is
// there; an engine that copies rows in bulk uses Table and Columns instead.
type Batch struct {
	Table   string
	Columns []string
	Insert  string
	// Rows hold one value a column: nil, bool, int64, float64 or string. The first is the key.
	Rows [][]any
}
