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
	// CannotOpen says why this ledger cannot be opened, and what to do.
	CannotOpen func(error) error
	// Classify says what sort of failure an error of the engine is; Internal if it is none of its own.
	Classify func(error) fault.Kind
	// Load inserts rows whose key is not there yet, and gives those that were there already, by their keys.
	Load func(ctx context.Context, tx Tx, batch Batch) (there map[string]Kept, err error)
	// Lock keeps other writers out until the transaction ends, so that what Record has checked still
	// holds when it commits.
	Lock func(ctx context.Context, tx Tx) error
	// Migrations gives the migrations of the engine, ready to run on the pool.
	Migrations func(*sql.DB) (*goose.Provider, error)
}

// Tx is a transaction that writes, and the connection that it runs on, for what goes past database/sql.
type Tx struct {
	*sql.Tx
	Conn *sql.Conn
}

// Kept is what tells a row of the ledger from others.
type Kept struct {
	Digest   string // of its content
	Position int64  // in the order of writing
	Replaced string // the key of the row that replaces it, "" for none
}

// Batch is rows for one table. Insert and Digest are texts that do one row's part of a load: the one
// inserts it and passes over a key that is there, the other gives what is Kept under a key. An
// engine that handles many rows at once uses Table and Columns instead.
type Batch struct {
	Table   string
	Columns []string
	Insert  string
	Digest  string // "" where no row can be there already
	// First is the place in the order of writing of the first row that is inserted; each further one has the next.
	// It is the last value of each row, which Load sets. 0 where rows carry no place.
	First int64
	// Rows hold one value a column: nil, bool, int64, float64 or string. Where there is a digest, the first
	// is the key, and keys differ.
	Rows [][]any
}
