package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
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
	db, done, err := l.open(ctx)
	if err != nil {
		return err
	}
	defer done()
	known, err := db.Directory(ctx)
	if err != nil {
		return err
	}
	now := time.Now()
	folder, err := importer.Check(os.DirFS(l.Dir), known, now)
	if err != nil {
		return err
	}
	write := db.RecordStream
	if l.DryRun {
		write = db.RehearseStream
	}
	recorded, err := write(ctx, folder.Rows(), now)
	if err != nil {
		return folder.Located(err)
	}
	c.loaded(folder, recorded, l.DryRun)
	return nil
}

// open opens the ledger to write to. A dry run makes none: where there is none it rehearses on an empty
// one that it throws away.
func (l *loadCommand) open(ctx context.Context) (*store.DB, func(), error) {
	if !l.DryRun || store.Exists(ctx, l.DB) {
		return openLedger(ctx, l.DB)
	}
	return store.OpenScratch(ctx)
}

// loaded tells what was read and written.
func (c *console) loaded(folder *importer.Folder, recorded inventory.Recorded, dryRun bool) {
	for _, f := range folder.Files() {
		fmt.Fprintf(c.out, "%-20s %8d rows\n", f.Name, f.Rows)
	}
	c.notices(c.out, "", folder.Notices())
	verb := "written"
	if dryRun {
		verb = "would be written (dry run: nothing was)"
	}
	fmt.Fprintf(c.out, "%d rows %s, %d known already\n", recorded.New, verb, recorded.Known)
	c.notInForce(recorded.NotInForce)
}

// mostSuperseded is how many known rows are named that are not in force.
const mostSuperseded = 20

// notInForce names known rows that their loading has not brought back.
func (c *console) notInForce(rows []inventory.Superseded) {
	var notes notice.List
	for _, row := range rows[:min(len(rows), mostSuperseded)] {
		notes.Add(row.Notice())
	}
	c.notices(c.out, "", notes)
	if rest := len(rows) - len(notes); rest > 0 {
		fmt.Fprintf(c.out, "%d more known rows are not in force\n", rest)
	}
}
