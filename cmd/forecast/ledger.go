package main

import (
	"context"
	"os"
	"path/filepath"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
)

// ledgerFlags are the flags of every command that opens the ledger.
type ledgerFlags struct {
	DB   string `name:"db" default:"overwinter.db" env:"OVERWINTER_DB" placeholder:"URL" help:"The ledger: a path or sqlite:PATH. It is made if it is not there."`
	Seed uint64 `default:"1" help:"Seed of the simulated futures: the same seed and readings give the same answer."`
}

// questionFlags are the flags of the commands that answer a question about a day.
type questionFlags struct {
	ledgerFlags
	AsOf string `name:"as-of" placeholder:"DATE" help:"Answer as of the close of this day, YYYY-MM-DD, with what was known then. Default: today at each plant; 2026-03-02 with --demo."`
	Demo bool   `help:"Use the invented demo scenario instead of a ledger; nothing is kept."`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// day reads the as-of day; nil means each plant's own today.
func (q questionFlags) day(now time.Time) (*calendar.Day, error) {
	if q.AsOf == "" {
		if q.Demo {
			day := demo.AsOf
			return &day, nil
		}
		return nil, nil
	}
	day, err := calendar.ParseDay(q.AsOf)
	if err != nil {
		return nil, fault.New(fault.Invalid, "--as-of: %v", err)
	}
	if last := calendar.DayOf(now.Add(14*time.Hour), time.UTC); day > last && !q.Demo {
		return nil, fault.New(fault.Invalid, "--as-of: %v lies in the future", day)
	}
	return &day, nil
}

// open opens the ledger that is asked about; done closes it, and removes the demo's.
func (q questionFlags) open(ctx context.Context) (db *store.DB, done func(), err error) {
	if q.Demo {
		return openDemo(ctx)
	}
	db, err = store.Open(ctx, q.DB)
	if err != nil {
		return nil, nil, err
	}
	return db, func() { _ = db.Close() }, nil
}

// openDemo lays the demo scenario down as a data folder and loads it, so that the demo goes the way of
// any other utility's readings.
func openDemo(ctx context.Context) (db *store.DB, done func(), err error) {
	dir, err := os.MkdirTemp("", "overwinter-demo-")
	if err != nil {
		return nil, nil, fault.Wrap(fault.Unavailable, err, "no room for the demo's ledger")
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(dir)
		}
	}()
	folder := filepath.Join(dir, "folder")
	if err = demo.Generate(demo.DefaultSeed).WriteFolder(folder); err != nil {
		return nil, nil, fault.Wrap(fault.Unavailable, err, "the demo's data folder cannot be written")
	}
	read, err := importer.Read(os.DirFS(folder), inventory.Rows{}, demo.Now)
	if err != nil {
		return nil, nil, err
	}
	db, err = store.Open(ctx, filepath.Join(dir, "demo.db"))
	if err != nil {
		return nil, nil, err
	}
	if _, err = db.Record(ctx, read.Rows, demo.Now); err != nil {
		_ = db.Close()
		return nil, nil, err
	}
	return db, func() { _ = db.Close(); _ = os.RemoveAll(dir) }, nil
}
