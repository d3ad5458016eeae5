// Package importer reads a data folder: plain CSV files that a utility can make with any spreadsheet.
// All of the folder is read or none of it: every malformed row of every file is named, with what was
// found and what was expected, and doubtful values come back as notices.
//
// A file's columns and the record that its rows make are declared once, as a sheet; the reading of
// CSV, units, numbers, moments and keys is the same for all.
package importer

import (
	"errors"
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
	plantSheet, routeSheet, serviceSheet, windowSheet, tankSheet, capacitySheet, meterSheet,
	readingSheet, swapSheet, gaugingSheet, totalSheet, deliverySheet, transferSheet, drawSheet, orderSheet,
	roundSheet, provingSheet, countSheet, changeSheet, confirmationSheet,
}

// Read reads a data folder, laid out as docs/data-folder.md says. ledger holds the plants, tanks,
// meters, routes, services and windows in force in the store, which the folder's rows may refer to;
// now bounds what may have happened. The error is fault.Invalid with a field file:row:column for
// each problem, the first 200 of them; then nothing is returned.
func Read(folder fs.FS, ledger inventory.Rows, now time.Time) (Result, error) {
	r := &run{
		folder: folder, ledger: ledger, now: now,
		zones: map[string]*time.Location{}, texts: map[string]string{},
		points: map[tankID][]point{}, holes: map[*sheet]bool{},
	}
	present, err := r.list()
	if err != nil {
		return Result{}, err
	}
	r.dir = inventory.NewDirectory(inForce(ledger, inventory.Rows{}))
	for _, s := range present {
		if err := r.read(s); err != nil {
			return Result{}, err
		}
		if s == plantSheet { // rows of later files are read by their plant's clocks
			r.dir = r.directory()
		}
	}
	r.attachPoints()
	r.check()
	if err := r.problems.fault(); err != nil {
		return Result{}, err
	}
	return r.result(), nil
}

// run is the reading of one folder.
type run struct {
	folder   fs.FS
	ledger   inventory.Rows
	now      time.Time
	dir      *inventory.Directory
	tables   []*table
	points   map[tankID][]point
	zones    map[string]*time.Location // by plant
	texts    map[string]string         // one copy of each text
	problems problems
	notices  notices
	// holes are the sheets of which some row could not be read at all, so that a missing reference to
	// them proves nothing.
	holes map[*sheet]bool
}

// list finds the known files of the folder, in the order of sheets.
func (r *run) list() ([]*sheet, error) {
	entries, err := fs.ReadDir(r.folder, ".")
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "the data folder cannot be read")
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
		return nil, fault.New(fault.Invalid, "the folder holds no data file: expected at least one of %s", strings.Join(fileNames(), ", "))
	}
	if !found[plantSheet.file] && len(r.ledger.Plants) == 0 {
		r.problems.add(place{file: plantSheet.file}, "missing, and the ledger has no plant yet: every other row belongs to a plant, so begin with this file")
		r.holes[plantSheet] = true
	}
	var present []*sheet
	for _, s := range sheets {
		if found[s.file] {
			present = append(present, s)
		}
	}
	return present, nil
}

func fileNames() []string {
	names := make([]string, len(sheets))
	for i, s := range sheets {
		names[i] = s.file
	}
	return names
}

// read reads one file and keeps its rows.
func (r *run) read(s *sheet) error {
	file, err := r.folder.Open(s.file)
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "%s cannot be read", s.file)
	}
	t := &table{sheet: s, order: slices.Index(sheets, s), run: r}
	r.tables = append(r.tables, t)
	err = errors.Join(t.scan(file), file.Close())
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "%s cannot be read", s.file)
	}
	return nil
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

// check holds every row that could be read against the directory and against its like.
func (r *run) check() {
	r.dir = r.directory()
	hole := func(s *sheet) bool { return r.holes[s] }
	for _, t := range r.tables {
		if slices.ContainsFunc(t.refers, hole) {
			r.problems.partial = true
		} else {
			t.check()
		}
		t.unique()
	}
}

func (t *table) check() {
	for i := range t.rows {
		e := &t.rows[i]
		if e.bad {
			continue
		}
		for _, f := range e.record.Check(t.run.dir, t.run.now) {
			e.bad = true
			t.problem(e.line, f.Where, "%s", f.Message)
		}
	}
}

// result gathers the rows and their notices once there is no problem left.
func (r *run) result() Result {
	var result Result
	for _, t := range r.tables {
		result.Files = append(result.Files, File{t.file, t.count})
		replaced := t.replaced()
		for _, e := range t.rows {
			result.Rows.Add(e.record)
			if d, ok := e.record.(doubtful); ok && e.inForce(replaced) {
				for _, n := range d.Doubts(r.dir) {
					r.notices.add(t.file, e.line, n)
				}
			}
		}
	}
	standing := inForce(inventory.Rows{}, inventory.Rows{Readings: result.Rows.Readings, Swaps: result.Rows.Swaps})
	for _, n := range inventory.BackwardMeters(standing.Readings, standing.Swaps, r.dir) {
		r.notices.add("", 0, n)
	}
	result.Notices = r.notices.list
	return result
}
