package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/store"
)

// loadCommand writes a data folder to the ledger.
type loadCommand struct {
	ledgerFlags
	Dir    string `arg:"" help:"The data folder; docs/data-folder.md says what it holds."`
	DryRun bool   `name:"dry-run" help:"Check everything and write nothing."`
}

// Run loads the folder.
func (l *loadCommand) Run(ctx context.Context, c *console) error {
	if info, err := os.Stat(l.Dir); err != nil || !info.IsDir() {
		return fault.New(fault.NotFound, "there is no folder %s", l.Dir)
	}
	db, err := store.Open(ctx, l.DB)
	if err != nil {
		return err
	}
	defer db.Close()
	known, err := db.Directory(ctx)
	if err != nil {
		return err
	}
	now := time.Now()
	read, err := importer.Read(os.DirFS(l.Dir), known, now)
	if err != nil {
		return err
	}
	for _, f := range read.Files {
		fmt.Fprintf(c.out, "%-20s %8d rows\n", f.Name, f.Rows)
	}
	c.notices(c.out, "", read.Notices)
	if l.DryRun {
		fmt.Fprintln(c.out, "dry run: nothing was written")
		return nil
	}
	recorded, err := db.Record(ctx, read.Rows, now)
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%d rows written, %d known already\n", recorded.New, recorded.Known)
	return nil
}
