package demo

import (
	"context"
	"os"

	"overwinter/internal/fault"
	"overwinter/internal/importer"
	"overwinter/internal/inventory"
)

// Load writes the demo that people see to an empty ledger. It lays the scenario down as a data folder
// and reads that, so that the demo goes the way of any other utility's readings.
func Load(ctx context.Context, ledger inventory.Recorder) error {
	folder, err := os.MkdirTemp("", "overwinter-demo-")
	if err != nil {
		return fault.Wrap(fault.Unavailable, err, "there is no room for the demo's data folder")
	}
	defer func() { _ = os.RemoveAll(folder) }() // it lies among temporary files
	if err := Generate(DefaultSeed).WriteFolder(folder); err != nil {
		return err
	}
	read, err := importer.Read(os.DirFS(folder), inventory.Rows{}, Now)
	if err != nil {
		return err
	}
	_, err = ledger.Record(ctx, read.Rows, Now)
	return err
}
