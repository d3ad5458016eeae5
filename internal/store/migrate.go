package store

import (
	"context"

	"github.com/pressly/goose/v3"

	"overwinter/internal/fault"
)

// migrate brings the tables up to date.
func (db *DB) migrate(ctx context.Context) error {
	migrations, err := db.engine.Migrations(db.sql)
	if err != nil {
		return fault.Wrap(fault.Internal, err, "the ledger's migrations cannot be read")
	}
	if err := upToDate(ctx, migrations); err != nil {
		return db.cannotMigrate(err)
	}
	current, latest, err := migrations.GetVersions(ctx)
	if err != nil {
		return db.cannotMigrate(err)
	}
	if current > latest {
		return fault.New(fault.Invalid,
			"the ledger's tables are of version %d and this release knows them up to %d: use a newer release",
			current, latest)
	}
	return nil
}

// upToDate runs the migrations that are missing; where none is, it waits for nobody. Where several
// processes open a new ledger at once, one may find a step done that it was about to do, so it tries
// again for every step: each migration, and the table in which they are noted.
func upToDate(ctx context.Context, migrations *goose.Provider) error {
	if missing, err := migrations.HasPending(ctx); err == nil && !missing {
		return nil
	}
	steps := len(migrations.ListSources()) + 1
	_, err := migrations.Up(ctx)
	for tried := 0; err != nil && tried < steps && ctx.Err() == nil; tried++ {
		_, err = migrations.Up(ctx)
	}
	return err
}

func (db *DB) cannotMigrate(err error) error {
	return fault.Wrap(db.engine.Classify(err), err, "the ledger's tables cannot be brought up to date")
}
