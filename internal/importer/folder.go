package importer

import (
	"errors"
	"io/fs"
	"slices"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// Folder is a data folder of which every row has passed its check.
type Folder struct {
	run     *run
	notices notices
}

// Check reads a data folder, laid out as docs/data-folder.md says. ledger holds the plants, tanks,
// meters, routes, services and windows in force in the store, which the folder's rows may refer to;
// now bounds what may have happened. The error is fault.Invalid with a field file:row:column for
// each problem, the first 200 of them, and fault.Unavailable where there is no room for temporary files.
//
// Memory holds the rows of plants, equipment, supply and orders; for each row that another one of its file replaces
// its key and that of the other, and for each repeated row two numbers and a digest. Of other rows it holds nothing: their keys
// are sorted with the help of a temporary file, of some 50 bytes a row.
func Check(folder fs.FS, ledger inventory.Rows, now time.Time) (*Folder, error) {
	return check(folder, ledger, now, false)
}

func check(folder fs.FS, ledger inventory.Rows, now time.Time, whole bool) (*Folder, error) {
	r := &run{
		folder: folder, ledger: ledger, now: now, whole: whole,
		zones: map[string]*time.Location{}, texts: map[string]string{},
		points: map[tankID][]point{}, holes: map[*sheet]bool{},
	}
	if err := r.list(); err != nil {
		return nil, err
	}
	if err := r.gather(); err != nil {
		return nil, err
	}
	for _, t := range r.tables {
		if err := t.judge(); err != nil {
			return nil, err
		}
	}
	if err := r.problems.fault("nothing was loaded"); err != nil {
		return nil, err
	}
	return &Folder{run: r}, nil
}

// gather reads the files whose rows are kept, and makes the directory of them.
func (r *run) gather() error {
	r.dir = inventory.NewDirectory(inForce(r.ledger, inventory.Rows{}))
	for _, t := range r.tables {
		if !t.kept {
			continue
		}
		t.each = func(e entered) error {
			t.rows = append(t.rows, e)
			return nil
		}
		if err := t.read(); err != nil {
			return err
		}
		if t.sheet == plantSheet { // rows of later files are read by their plant's clocks
			r.dir = r.directory()
		}
	}
	r.attachPoints()
	r.dir = r.directory()
	return nil
}

// Files counts the rows of each file.
func (f *Folder) Files() []File {
	files := make([]File, len(f.run.tables))
	for i, t := range f.run.tables {
		files[i] = File{t.file, t.count}
	}
	return files
}

// Notices gives the doubtful values that are kept. They are complete once Rows has been gone through.
func (f *Folder) Notices() notice.List { return f.notices.list }

// Rows gives every row, none twice, what is referred to before what refers to it. Large files are read again for it;
// one that has changed since Check ends the stream with fault.Unavailable. Readings of meters are sorted by time with
// the help of a temporary file, of some 50 bytes a reading.
func (f *Folder) Rows() inventory.Stream {
	return func(yield func(inventory.Record, error) bool) {
		f.notices = f.run.notices.clone()
		registers := &registers{}
		defer registers.close()
		for _, t := range f.run.tables {
			err := t.again(func(e entered) error {
				if !yield(e.record, nil) {
					return errStopped
				}
				return f.doubt(t, e, registers)
			})
			if errors.Is(err, errStopped) {
				return
			}
			if err != nil {
				yield(nil, err)
				return
			}
		}
		err := registers.backward(f.run.dir, func(n notice.Notice) { f.notices.add("", 0, n) })
		if err != nil {
			yield(nil, err)
		}
	}
}

// errStopped says that nobody wants the rest of a file.
var errStopped = errors.New("stopped")

// doubt raises the notices about a row in force.
func (f *Folder) doubt(t *table, e entered, registers *registers) error {
	if !t.inForce(e) {
		return nil
	}
	if d, ok := e.record.(doubtful); ok {
		for _, n := range d.Doubts(f.run.dir) {
			f.notices.add(t.file, e.line, n)
		}
	}
	return registers.add(e)
}

// again goes through the rows of a checked file, none twice.
func (t *table) again(each func(entered) error) error {
	return t.reread(func(e entered) error {
		if e.bad {
			return t.changed()
		}
		if _, repeated := t.repeated[e.line]; repeated {
			return nil
		}
		return each(e)
	})
}

// reread goes through all rows once more. A file that is not what it was is an error, at its end if not before.
func (t *table) reread(each func(entered) error) error {
	if t.kept {
		for _, e := range t.rows {
			if err := each(e); err != nil {
				return err
			}
		}
		return nil
	}
	second := &table{sheet: t.sheet, order: t.order, run: t.run.again(), each: each}
	if err := second.read(); err != nil {
		return err
	}
	if second.sum != t.sum {
		return t.changed()
	}
	return nil
}

func (t *table) changed() error {
	return fault.New(fault.Unavailable, "%s was changed while it was being read: nothing was loaded; load the folder again once nobody writes to it", t.file)
}

// judge holds the rows of a file against the directory and against each other. A large file is read for it.
func (t *table) judge() error {
	if t.blind = slices.ContainsFunc(t.refers, func(s *sheet) bool { return t.run.holes[s] }); t.blind {
		t.run.problems.partial = true
	}
	var keys sorter
	defer keys.close()
	if t.kept {
		for i := range t.rows {
			if err := t.admit(&t.rows[i], &keys); err != nil {
				return err
			}
		}
	} else {
		t.each = func(e entered) error { return t.admit(&e, &keys) }
		if err := t.read(); err != nil {
			return err
		}
	}
	if err := t.unique(&keys); err != nil {
		return err
	}
	t.rows = slices.DeleteFunc(t.rows, func(e entered) bool {
		_, repeated := t.repeated[e.line]
		return e.bad || repeated
	})
	if t.single {
		t.singles()
	}
	if t.sheet == degreeSheet {
		t.oneLine()
	}
	return nil
}

// admit checks a row and notes its key.
func (t *table) admit(e *entered, keys *sorter) error {
	if !e.bad && !t.blind {
		for _, f := range e.record.Check(t.run.dir, t.run.now) {
			e.bad = true
			t.problem(e.line, f.Where, "%s", f.Message)
		}
	}
	if e.bad {
		return nil
	}
	t.noteReplaced(*e)
	return keys.add(keyRecord(*e))
}
