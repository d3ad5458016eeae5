package intake

import (
	"context"
	"fmt"
	"slices"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// sheet is a report on its way into the ledger.
type sheet struct {
	*Desk
	Report
	what  string // the report's name in messages
	now   time.Time
	dir   *inventory.Directory
	plant *inventory.Plant
	rows  inventory.Rows
	wrong []fault.Field
}

// open begins a sheet. The error is fault.NotFound where there is no such plant.
func (d *Desk) open(ctx context.Context, what string, r Report) (*sheet, error) {
	rows, err := d.Ledger.Directory(ctx)
	if err != nil {
		return nil, err
	}
	s := &sheet{Desk: d, Report: r, what: what, now: d.Clock(), dir: inventory.NewDirectory(rows)}
	if s.plant = s.dir.Plant(r.Plant); s.plant == nil {
		return nil, fault.New(fault.NotFound, "there is no plant %q: check its id", r.Plant)
	}
	if wrong := checkKey(r.Key); wrong != "" {
		s.refuse("key", "%s", wrong)
	}
	return s, nil
}

func (s *sheet) refuse(where, format string, args ...any) {
	s.wrong = append(s.wrong, fault.Field{Where: where, Message: fmt.Sprintf(format, args...)})
}

// moment checks that a moment was given at all and gives it as the ledger keeps it: in UTC, to the
// millisecond.
func (s *sheet) moment(at time.Time) time.Time {
	if at.IsZero() {
		s.refuse("at", "blank: expected the moment of the reading, with its offset from UTC")
		return s.now // so that the other fields can still be checked
	}
	return time.UnixMilli(at.UnixMilli()).UTC()
}

// checked is a row that can say what is wrong with it, and what is doubtful.
type checked interface {
	inventory.Record
	Check(dir *inventory.Directory, now time.Time) []fault.Field
	Doubts(dir *inventory.Directory) []notice.Notice
}

// add puts a row on the sheet and gathers what is wrong with it; where turns the row's column into the
// report's field.
func (s *sheet) add(r checked, where func(column string) string) {
	s.rows.Add(r)
	found := r.Check(s.dir, s.now)
	if found != nil {
		// What lies in the future is checked no further; what else is wrong is found as if it were past.
		found = append(found, r.Check(s.dir, s.now.AddDate(farAhead, 0, 0))...)
	}
	for _, f := range found {
		f.Where = where(f.Where)
		// What all rows of a report share is said once, and the report's key has its own check.
		if f.Where != "key" && !slices.Contains(s.wrong, f) {
			s.wrong = append(s.wrong, f)
		}
	}
}

// farAhead is beyond every moment that a row may name, in years.
const farAhead = 1000

// asIs is for reports whose fields have the names of the row's columns.
func asIs(column string) string { return column }

// entry is what every row of the sheet begins with.
func (s *sheet) entry(key string) inventory.Entry { return inventory.Entry{Key: key, Who: s.Who} }

// invalid is the error that names everything that is wrong, nil if nothing is.
func (s *sheet) invalid() error {
	if s.wrong == nil {
		return nil
	}
	return fault.New(fault.Invalid, "the %s cannot be kept: nothing was written", s.what).With(s.wrong...)
}

// taken is the error where the key stands for another report.
func (s *sheet) taken(cause error) error {
	return fault.Wrap(fault.Conflict, cause,
		"the key %q is used already for another %s at plant %s: nothing was written. Send a new %s under a key of its own",
		s.Key, s.what, s.Plant, s.what)
}

// write records the sheet's rows. A report that has come before is known even where it would be refused
// today, since tanks and meters change.
func (s *sheet) write(ctx context.Context) (inventory.Recorded, error) {
	if err := s.invalid(); err != nil {
		if s.cameBefore(ctx) {
			return inventory.Recorded{Known: s.rows.Len()}, nil
		}
		return inventory.Recorded{}, err
	}
	done, err := s.Ledger.Record(ctx, s.rows, s.now)
	if fault.KindOf(err) == fault.Conflict {
		return done, s.taken(err)
	}
	return done, err
}

// cameBefore tells whether all rows of the sheet are in the ledger.
func (s *sheet) cameBefore(ctx context.Context) bool {
	if s.rows.Len() == 0 || checkKey(s.Key) != "" {
		return false
	}
	done, err := s.Ledger.Rehearse(ctx, s.rows, s.now)
	return err == nil && done.New == 0
}

// receipt tells what became of the sheet, once the plant is advised anew; at is the newest moment that
// it speaks of, zero where it speaks of none.
func (s *sheet) receipt(ctx context.Context, done inventory.Recorded, notes notice.List, at time.Time) Receipt {
	r := Receipt{New: done.New, Known: done.Known, Notices: notes}
	r.Advised = s.advised(ctx, s.Plant, at, done.New > 0)
	return r
}
