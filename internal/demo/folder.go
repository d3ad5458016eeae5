package demo

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// WriteFolder writes the scenario's rows as a data folder of CSV files: volumes in litres, lengths in
// millimetres, temperatures in °C, all digits kept, moments by the plant's clocks with their offset. The
// folder is made if it is not there; files of the same names are overwritten.
func (sc Scenario) WriteFolder(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fault.Wrap(fault.Unavailable, err, "the folder %s cannot be made", dir)
	}
	for _, f := range sc.files() {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.text(), 0o644); err != nil {
			return fault.Wrap(fault.Unavailable, err, "%s cannot be written", f.name)
		}
	}
	return nil
}

// file is one CSV file: the first row is the header.
type file struct {
	name string
	rows [][]string
}

// text writes the file as CSV. A column that no row fills in is left out.
func (f file) text() []byte {
	var used []int
	for column := range f.rows[0] {
		if slices.ContainsFunc(f.rows[1:], func(row []string) bool { return row[column] != "" }) {
			used = append(used, column)
		}
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	kept := make([]string, len(used))
	for _, row := range f.rows {
		for i, column := range used {
			kept[i] = row[column]
		}
		_ = w.Write(kept) // a buffer does not fail, and the comma is a valid separator
	}
	w.Flush()
	return b.Bytes()
}

// fileOf lays the rows of one kind out, each with the columns of its entry before its own.
func fileOf[T inventory.Record](name string, records []T, header []string, row func(T) []string) file {
	f := file{name: name, rows: [][]string{append([]string{"key", "replaces", "who", "why"}, header...)}}
	for _, r := range records {
		e := r.Base()
		f.rows = append(f.rows, append([]string{e.Key, e.Replaces, e.Who, e.Why}, row(r)...))
	}
	return f
}

// files lays every kind of row out.
func (sc Scenario) files() []file {
	clocks := clocksOf(sc.Rows.Plants)
	return slices.Concat(equipmentFiles(&sc.Rows), readingFiles(&sc.Rows, clocks), movementFiles(&sc.Rows, clocks), supplyFiles(&sc.Rows))
}
