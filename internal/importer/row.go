package importer

import (
	"math"
	"strconv"
	"strings"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// row is one row while it becomes a record. Its getters name what is wrong and go on with a zero
// value, so that every problem of a row is found in one pass.
type row struct {
	*table
	fields []string
	line   int
	void   bool
	bad    bool
}

// wrong names a problem of the row.
func (r *row) wrong(column, format string, args ...any) {
	r.problem(r.line, column, format, args...)
	r.bad = true
}

// raw gives a field as written, "" where the file lacks the column. Asking for a column that the sheet
// does not declare is a mistake in this package.
func (r *row) raw(column string) string {
	c, ok := r.cells[column]
	if !ok {
		panic("importer: " + r.file + " declares no column " + column)
	}
	if c.position == absent {
		return ""
	}
	return r.fields[c.position]
}

func (r *row) require(c column) {
	if r.raw(c.name) == "" {
		r.wrong(c.name, "blank: the row needs it")
	}
}

// text gives a field of which many rows hold the same.
func (r *row) text(column string) string {
	field := r.raw(column)
	kept, ok := r.run.texts[field]
	if !ok {
		if len(r.run.texts) >= mostTexts {
			clear(r.run.texts)
		}
		kept = strings.Clone(field) // a field shares memory with its whole line
		r.run.texts[kept] = kept
	}
	return kept
}

// mostTexts is how many texts are remembered: more than there are plants and tanks, and few enough for memory where
// each row has one of its own, such as the number of its document.
const mostTexts = 20_000

// code gives a field that is one of the codes of a type; its check says which there are.
func code[T ~string](r *row, column string) T { return T(r.text(column)) }

// yes reads yes, no or nothing.
func (r *row) yes(column string) bool {
	switch field := r.raw(column); field {
	case "yes":
		return true
	case "no", "":
	default:
		r.wrong(column, "%s is neither yes nor no", quote(field))
	}
	return false
}

// maybeYes reads yes, no, or nil where blank.
func (r *row) maybeYes(column string) *bool {
	if r.raw(column) == "" {
		return nil
	}
	return new(r.yes(column))
}

// maybe reads a number in the unit of its column and gives it in the stored unit, nil where blank.
func maybe[T ~float64](r *row, column string) *T {
	field := r.raw(column)
	if field == "" {
		return nil
	}
	written, ok := number(field)
	if !ok {
		r.wrong(column, "%s", noNumber(field))
		return nil
	}
	// Adding zero makes a negative zero a plain one.
	stored := tidy(r.cells[column].scale, written) + 0
	if math.IsInf(stored, 0) {
		r.wrong(column, "%s is beyond all measure: check the number", quote(field))
		return nil
	}
	value := T(stored)
	return &value
}

// value reads a number as maybe does, zero where blank.
func value[T ~float64](r *row, column string) T {
	if v := maybe[T](r, column); v != nil {
		return *v
	}
	return 0
}

// whole reads a whole number in a range, nil where blank.
func (r *row) whole(column string, low, high int) *int {
	field := r.raw(column)
	if field == "" {
		return nil
	}
	n, err := strconv.Atoi(field)
	if err != nil || n < low || n > high {
		r.wrong(column, "%s: expected a whole number from %d to %d", quote(field), low, high)
		return nil
	}
	return &n
}

// day reads a day, nil where blank.
func (r *row) day(column string) *calendar.Day {
	field := r.raw(column)
	if field == "" {
		return nil
	}
	d, err := calendar.ParseDay(field)
	if err != nil {
		r.wrong(column, "%s is no day: expected YYYY-MM-DD such as 2026-03-02", quote(field))
		return nil
	}
	return &d
}

// monthDay reads a day of any year, nil where blank.
func (r *row) monthDay(column string) *inventory.MonthDay {
	field := r.raw(column)
	if field == "" {
		return nil
	}
	t, err := time.Parse("2006-01-02", "2024-"+field) // a leap year knows every day
	if err != nil {
		r.wrong(column, "%s is no day of the year: expected MM-DD such as 06-15", quote(field))
		return nil
	}
	return &inventory.MonthDay{Month: t.Month(), Day: t.Day()}
}

// moment reads a moment by the clocks of a plant, in UTC; the zero time where it cannot.
func (r *row) moment(column, plant string) time.Time {
	field := r.raw(column)
	if field == "" {
		return time.Time{}
	}
	zone := r.run.zone(plant)
	at, times, err := moment(field, zone)
	if err != nil {
		r.wrong(column, "%s", err)
		return time.Time{}
	}
	if times > 1 {
		r.run.notices.add(r.file, r.line, notice.New(notice.Info, CodeTimeTwice, "plant "+plant,
			"%s exists twice there, since the clocks go back: taken as the first; write an offset to say otherwise", field))
	}
	return at
}

// CodeTimeTwice is the notice about a local time that exists twice.
const CodeTimeTwice = "time-twice"

// maybeMoment reads a moment, nil where blank.
func (r *row) maybeMoment(column, plant string) *time.Time {
	if r.raw(column) == "" {
		return nil
	}
	return new(r.moment(column, plant))
}

// entry reads the columns of every file; a blank key is filled in once the record is made.
func (r *row) entry() inventory.Entry {
	return inventory.Entry{
		Key:      strings.Clone(r.raw("key")),
		Replaces: strings.Clone(r.raw("replaces")),
		Void:     r.void,
		Who:      r.text("who"),
		Why:      r.text("why"),
	}
}

// orZero gives a value, or zero where there is none: the row is then void or already named as bad.
func orZero[T any](v *T) T {
	if v == nil {
		return *new(T)
	}
	return *v
}

// quote sets a field in quotes, shortened where it is long.
func quote(field string) string { return strconv.Quote(clip(field)) }

// clip shortens a text that is too long for a message.
func clip(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
