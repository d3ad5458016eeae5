package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
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
	what  string           // the report's name in messages
	id    inventory.Report // Content is that of the rows where it is left blank
	now   time.Time
	dir   *inventory.Directory
	plant *inventory.Plant
	rows  inventory.Rows
	wrong []fault.Field
	never bool // it is wrong in itself, so that it was never kept before

	places   map[string]string  // of each row, as the store names it: where the report says what it replaces
	replaced []inventory.Record // what the rows replace, as it stood in force before
}

// open begins a sheet; key is that of the report in the ledger. The error is fault.NotFound where there is
// no such plant.
func (d *Desk) open(ctx context.Context, what, key string, r Report) (*sheet, error) {
	rows, err := d.Ledger.Directory(ctx)
	if err != nil {
		return nil, err
	}
	s := &sheet{Desk: d, Report: r, what: what, id: inventory.Report{Key: key}, now: d.Clock(), dir: inventory.NewDirectory(rows), places: map[string]string{}}
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

// refuseEver is refuse for what was never right, whatever tanks and meters the plant had: rows that would be left of
// the report do not make it one that came before.
func (s *sheet) refuseEver(where, format string, args ...any) {
	s.never = true
	s.refuse(where, format, args...)
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

// maybeMoment gives a moment that may be left out as the ledger keeps it.
func (s *sheet) maybeMoment(at *time.Time) *time.Time {
	if at == nil {
		return nil
	}
	kept := time.UnixMilli(at.UnixMilli()).UTC()
	return &kept
}

// present is now, or the last moment of the day that advice stands at.
func (s *sheet) present() time.Time {
	if s.AsOf == nil {
		return s.now
	}
	_, end := s.AsOf.Bounds(s.zone())
	if last := end.Add(-time.Millisecond); last.Before(s.now) {
		return last
	}
	return s.now
}

// Checked is a row that can say what is wrong with it.
type Checked interface {
	inventory.Record
	Check(dir *inventory.Directory, now time.Time) []fault.Field
}

// doubting is a row that can say what is doubtful about it alone.
type doubting interface {
	Doubts(dir *inventory.Directory) []notice.Notice
}

// add puts a row on the sheet and gathers what is wrong with it; where turns the row's column into the
// report's field.
func (s *sheet) add(r Checked, where func(column string) string) {
	s.rows.Add(r)
	s.places[string(r.Kind())+" "+r.Base().Key] = where("replaces")
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
func (s *sheet) entry(key string) inventory.Entry {
	return inventory.Entry{Key: key, Who: s.Who, Why: s.Why}
}

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
		if known, _ := s.cameBefore(ctx); known && !s.never {
			return inventory.Recorded{Known: s.rows.Len()}, nil
		}
		return inventory.Recorded{}, err
	}
	if err := s.findReplaced(ctx); err != nil {
		return inventory.Recorded{}, err
	}
	done, err := s.Ledger.RecordReport(ctx, s.report(), s.rows, s.now)
	switch {
	case errors.Is(err, inventory.ErrKeyTaken):
		return inventory.Recorded{}, s.taken(err)
	case fault.KindOf(err) == fault.Conflict && s.corrects():
		return inventory.Recorded{}, s.overtaken(err)
	case fault.KindOf(err) == fault.Conflict:
		return inventory.Recorded{}, s.taken(err)
	}
	return done, err
}

// overtaken is the error where a row stands in the place of one that is not in force; its fields name the row that is.
func (s *sheet) overtaken(cause error) error {
	e := fault.Wrap(fault.Conflict, cause,
		"the %s cannot stand in the place of the earlier one, which was corrected in the meantime or is not there: nothing was written. Look at the newest values and enter the %s again", s.what, s.what)
	var told *fault.Error
	if errors.As(cause, &told) {
		for _, f := range told.Fields {
			e.Fields = append(e.Fields, fault.Field{Where: s.places[f.Where], Message: f.Message})
		}
	}
	return e
}

// corrects tells whether a row of the sheet stands in the place of another.
func (s *sheet) corrects() bool {
	for r := range s.rows.All() {
		if r.Base().Replaces != "" {
			return true
		}
	}
	return false
}

// report identifies what was sent.
func (s *sheet) report() inventory.Report {
	r := s.id
	if r.Content == "" {
		var all []string
		for row := range s.rows.All() {
			all = append(all, inventory.Digest(row))
		}
		slices.Sort(all)
		r.Content = contentOf(all)
	}
	return r
}

// contentOf identifies what a report says.
func contentOf(parts []string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q", parts))
	return hex.EncodeToString(sum[:16])
}

// cameBefore tells whether the report is in the ledger; it is an error where its key stands for another.
func (s *sheet) cameBefore(ctx context.Context) (bool, error) {
	if s.rows.Len() == 0 || checkKey(s.Key) != "" || !s.finite() {
		return false, nil
	}
	known, err := s.Ledger.Reported(ctx, s.report())
	if errors.Is(err, inventory.ErrKeyTaken) {
		err = s.taken(err)
	}
	return known, err
}

// finite tells whether all numbers of the rows are; no report with others was ever kept.
func (s *sheet) finite() bool {
	for row := range s.rows.All() {
		if _, err := json.Marshal(row); err != nil {
			return false
		}
	}
	return true
}

// receipt tells what became of the sheet, once the plant is advised anew.
func (s *sheet) receipt(ctx context.Context, done inventory.Recorded, notes notice.List) Receipt {
	r := Receipt{New: done.New, Known: done.Known, Notices: notes}
	for _, row := range done.NotInForce {
		r.Notices.Add(row.Notice())
	}
	s.weigh(ctx, &r)
	r.Advised = s.advised(ctx, s.Plant, done.New > 0)
	return r
}
