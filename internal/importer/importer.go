// Package importer reads a data folder: plain CSV files that a utility can make with any spreadsheet.
// All of the folder is read or none of it: every malformed row of every file is named, with what was
// found and what was expected, and doubtful values come back as notices.
//
// A folder is read twice: Check goes through all rows and finds what is wrong, Folder.Rows gives them one by one.
// So a folder of any size needs little memory. Read does both at once and holds all rows.
//
// A file's columns and the record that its rows make are declared once, as a sheet; the reading of
// CSV, units, numbers, moments and keys is the same for all.
package importer

import (
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Result is what a data folder holds. Every row has passed its check, and no key stands twice.
type Result struct {
	Rows    inventory.Rows
	Notices notice.List // doubtful values that are kept
	Files   []File
}

// File counts the rows of one file, repeated ones included.
type File struct {
	Name string
	Rows int
}

// sheets are the known files; what a row refers to stands in a file before its own.
var sheets = []*sheet{
	plantSheet, routeSheet, serviceSheet, windowSheet, pastSheet, limitSheet, spendingSheet, tankSheet, capacitySheet, meterSheet,
	readingSheet, swapSheet, gaugingSheet, totalSheet, deliverySheet, transferSheet, drawSheet, orderSheet, clearanceSheet,
	roundSheet, provingSheet, countSheet, changeSheet, confirmationSheet, loadSheet, degreeSheet,
}

// Read reads a data folder as Check does and gives all its rows at once.
func Read(folder fs.FS, ledger inventory.Rows, now time.Time) (Result, error) {
	f, err := check(folder, ledger, now, true)
	if err != nil {
		return Result{}, err
	}
	result := Result{Files: f.Files()}
	for record, err := range f.Rows() {
		if err != nil {
			return Result{}, err
		}
		result.Rows.Add(record)
	}
	result.Notices = f.Notices()
	return result, nil
}

// run is the reading of one folder.
type run struct {
	folder   fs.FS
	ledger   inventory.Rows
	now      time.Time
	whole    bool // all rows are held
	dir      *inventory.Directory
	tables   []*table // in the order of sheets
	points   map[tankID][]point
	zones    map[string]*time.Location // by plant
	texts    map[string]string         // one copy of each text
	problems problems
	notices  notices
	// holes are the sheets of which some row could not be read at all, so that a missing reference to
	// them proves nothing.
	holes map[*sheet]bool
}

// again is the same run for the second reading of a file, with problems and notices of its own.
func (r *run) again() *run {
	second := *r
	second.problems, second.notices = problems{}, notices{}
	return &second
}

// list finds the known files of the folder.
func (r *run) list() error {
	entries, err := fs.ReadDir(r.folder, ".")
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "the data folder cannot be read")
	}
	found := map[string]bool{}
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || !strings.EqualFold(path.Ext(name), ".csv") || strings.HasPrefix(name, ".") {
			continue
		}
		if !slices.Contains(fileNames(), name) {
			r.problems.add(place{file: name}, "not a file of a data folder: "+suggest(name, fileNames()))
			continue
		}
		// A pipe or a device would be waited for without end; a link is as good as what it leads to.
		if info, err := fs.Stat(r.folder, name); err == nil && !info.Mode().IsRegular() {
			r.problems.add(place{file: name}, "not a regular file: expected a CSV file")
			continue
		}
		found[name] = true
	}
	if len(found) == 0 && r.problems.count == 0 {
		return fault.New(fault.Invalid, "the folder holds no data file: expected at least one of %s", strings.Join(fileNames(), ", "))
	}
	if !found[plantSheet.file] && len(r.ledger.Plants) == 0 {
		r.problems.add(place{file: plantSheet.file}, "missing, and the ledger has no plant yet: every other row belongs to a plant, so begin with this file")
		r.holes[plantSheet] = true
	}
	for i, s := range sheets {
		if found[s.file] {
			kept := r.whole || s.referred || s.single
			r.tables = append(r.tables, &table{sheet: s, order: i, run: r, kept: kept, replaced: map[string]replacer{}})
		}
	}
	return nil
}

func fileNames() []string {
	names := make([]string, len(sheets))
	for i, s := range sheets {
		names[i] = s.file
	}
	return names
}

// read reads a file.
func (t *table) read() error {
	file, err := t.run.folder.Open(t.file)
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "%s cannot be read", t.file)
	}
	sum := sha256.New()
	err = t.scan(io.TeeReader(file, sum))
	if err == nil {
		_, err = io.Copy(sum, file) // where the scan has given up before the end
	}
	err = errors.Join(err, file.Close())
	t.sum = [sha256.Size]byte(sum.Sum(nil))
	var known *fault.Error
	if err == nil || errors.Is(err, errStopped) || errors.As(err, &known) {
		return err
	}
	return fault.Wrap(fault.Invalid, err, "%s cannot be read", t.file)
}

// directory indexes what rows may refer to: the ledger's rows in force and the folder's.
func (r *run) directory() *inventory.Directory {
	var folder inventory.Rows
	for _, t := range r.tables {
		if t.referred {
			for _, e := range t.rows {
				folder.Add(e.record)
			}
		}
	}
	return inventory.NewDirectory(inForce(r.ledger, folder))
}
