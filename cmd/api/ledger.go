package main

import (
	"context"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/demo"
	"overwinter/internal/store"
)

// ledger is an open ledger with the time that it is looked at.
type ledger struct {
	*store.DB
	done  func() // closes it, and removes the demo's
	asOf  *calendar.Day
	clock calendar.Clock
}

// open opens the ledger and brings its tables up to date. The demo's time stands still, at the end of its
// day: so a round of that day has happened, and counts.
func open(ctx context.Context, c config) (ledger, error) {
	if !c.demo {
		db, err := store.Open(ctx, c.db)
		if err != nil {
			return ledger{}, err
		}
		return ledger{DB: db, done: func() { _ = db.Close() }, clock: time.Now}, nil
	}
	db, done, err := store.OpenScratch(ctx)
	if err != nil {
		return ledger{}, err
	}
	if err := demo.Load(ctx, db); err != nil {
		done()
		return ledger{}, err
	}
	day := demo.AsOf
	return ledger{DB: db, done: done, asOf: &day, clock: calendar.At(demo.Now)}, nil
}

// options say how the ledger's plants are advised.
func (l ledger) options(c config) advice.Options {
	return advice.Options{AsOf: l.asOf, Seed: c.seed, Price: c.price}
}
