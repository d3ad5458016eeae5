package inventory

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"time"

	"overwinter/internal/notice"
)

// Recorded counts what a write did.
type Recorded struct {
	New   int // rows that were not there before
	Known int // rows that were there with the same content
	// NotInForce are those of the known rows in whose place others stand that were not sent with them, by kind and key.
	NotInForce []Superseded
}

// Superseded is a row in whose place another one stands.
type Superseded struct {
	Kind      Kind
	Key       string
	By        string // the key of the row that replaces it
	Withdrawn bool   // which only withdraws it
}

// Notice says that sending the row again has not brought it back.
func (s Superseded) Notice() notice.Notice {
	what, how := "replaced", ", as a correction of what stands in its place"
	if s.Withdrawn {
		what, how = "withdrawn", ""
	}
	return notice.New(notice.Caution, "known-not-in-force", fmt.Sprintf("%s %s", s.Kind, s.Key),
		"known already, but not in force: it was %s by %s. To bring it back, send it under a key of its own%s", what, s.By, how)
}

// Report is what somebody sent at once.
type Report struct {
	Key     string // unique among all reports
	Content string // identifies what was sent, in at most a few hundred characters
}

// ErrKeyTaken is behind the conflict of a report whose key stands for other content.
var ErrKeyTaken = errors.New("the key of the report stands for other content")

// Stream is ledger rows one by one, so that no more of them than needed are in memory. It may be gone through in
// another goroutine than that of the caller. It ends with an error at the first row that cannot be given.
type Stream = iter.Seq2[Record, error]

// Recorder writes ledger rows.
type Recorder interface {
	// Record writes all rows or none. A key that is there with the same content counts as known. It is a
	// conflict, which names such rows, some 200 of them, when
	//   - a key is there, or is given twice, with other content;
	//   - the replaced row is missing, is of another plant, or is replaced by another row already;
	//   - two rows in force would stand for the same plant, tank, meter, route, service (plant and route),
	//     window (route, name and year), past window (likewise), window limit (route, name, first day and cause),
	//     spending limit (plant, name and first day), order or clearance (plant, order and name);
	//   - degree days of one climate group would be of several bases, or two rows of them of one day.
	// Numbers that are not finite, texts that are not UTF-8, a blank key and a void row that replaces
	// nothing are invalid, which is told first. Rows of one batch may stand in any order. Instants are kept in UTC to the
	// millisecond. recordedAt is kept with each row.
	Record(ctx context.Context, rows Rows, recordedAt time.Time) (Recorded, error)
	// Rehearse says what Record would say and leaves everything as it was.
	Rehearse(ctx context.Context, rows Rows, recordedAt time.Time) (Recorded, error)
	// RecordStream is Record for rows of any number. They are written within one transaction while the stream is
	// gone through, so other writers wait until it ends. An error of the stream gives all of it up and is returned.
	RecordStream(ctx context.Context, rows Stream, recordedAt time.Time) (Recorded, error)
	// RehearseStream says what RecordStream would say and leaves everything as it was.
	RehearseStream(ctx context.Context, rows Stream, recordedAt time.Time) (Recorded, error)
	// RecordReport is Record for the rows of a report. A report that is there writes nothing, and all its rows
	// count as known, whatever has become of them since; NotInForce tells. The conflict of a key that stands for other content
	// is ErrKeyTaken.
	RecordReport(ctx context.Context, report Report, rows Rows, recordedAt time.Time) (Recorded, error)
	// Reported tells whether a report is there; the error is as that of RecordReport.
	Reported(ctx context.Context, report Report) (bool, error)
}

// RowReader reads the rows in force: those that no later row replaces, less the withdrawn ones.
type RowReader interface {
	// Directory gives every plant, tank, meter, route, service, window, past window, window limit and spending
	// limit, ordered by plant and id; services by plant and route, windows and past windows by route, name and
	// year, window limits by route, name, first day and cause, spending limits by plant, name and first day.
	Directory(ctx context.Context) (Rows, error)
	// PlantRows gives one plant's readings and movements that happened before the given instant, in
	// order of time, then key; the Rows hold no plants, tanks, meters or supply. Day-dated rows count
	// as happening in the last millisecond of their last day in UTC, so a row whose last day is just
	// over is given, as are those of the plant's climate group. Orders are given whatever their dates are, in order
	// of the day of ordering, and load changes, in order of their first day, and clearances, in order of their key.
	PlantRows(ctx context.Context, plant string, before time.Time) (Rows, error)
	// RecentRows is PlantRows from an instant on, for what needs no more than the last days; orders, clearances and load
	// changes are given whatever their dates are.
	RecentRows(ctx context.Context, plant string, from, before time.Time) (Rows, error)
}

// Reader reads the ledger as it is now.
type Reader interface {
	RowReader
	// Version counts the writes that brought new rows: what is read later holds all of them. 0 is that of an
	// empty ledger. It costs one look into an index.
	Version(ctx context.Context) (int64, error)
	// Changes gives for each plant the version that brought its newest row, under "" that of the newest row
	// of a route, a window or a climate group.
	Changes(ctx context.Context) (map[string]int64, error)
}

// LedgerVersion is the ledger as one write left it.
type LedgerVersion struct {
	Number     int64     // counts the writes that brought new rows: 0 before the first
	RecordedAt time.Time // never earlier than that of the version before
}

// Written is a row as it stands in the order of writing, in force or not.
type Written struct {
	Position   int64 // counts the rows of all kinds from 1, without a gap
	Kind       Kind
	Key        string
	Plant      string // "" for a route, a window or degree days
	Replaces   string
	Void       bool
	Who, Why   string
	RecordedAt time.Time // by the clock of who wrote it
}

// History reads what the ledger was known to be. A version, not a time, says what was known: all writers stand in
// one line and have clocks of their own. So a moment stands for a version: the last that was written by then.
type History interface {
	// VersionAt gives the last version that was recorded by a moment, to the millisecond; the zero version
	// before the first. A writer whose clock is behind counts as at the moment of the write before its own.
	VersionAt(ctx context.Context, at time.Time) (LedgerVersion, error)
	// AsKnown reads the ledger as it was at a version: a row that was replaced later is in force there. What it
	// reads of a version that the ledger has not reached is fault.NotFound.
	AsKnown(version int64) RowReader
	// RowsWritten gives rows of all kinds in the order of writing: the first after a position, at most limit of
	// them. A row that is written later never takes a position before one that was read.
	RowsWritten(ctx context.Context, after int64, limit int) ([]Written, error)
	OrderReader
}

// OrderReader reads the lives of orders.
type OrderReader interface {
	// OrdersWritten gives every row of a plant's orders, in force or not, in the order of writing.
	OrdersWritten(ctx context.Context, plant string) ([]OrderWritten, error)
}

// Store is the ledger's store.
type Store interface {
	Recorder
	Reader
	History
}
