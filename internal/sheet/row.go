package sheet

import (
	"math"
	"strconv"
	"strings"

	"overwinter/internal/calendar"
)

// Row is one row while it is read. Its getters name what is wrong and go on with a zero value, so that every
// problem of a row is found in one pass.
type Row struct {
	*Sheet
	Line   int
	Bad    bool // a problem was found in it
	fields []string
}

// Wrong notes what is wrong with a field.
func (r *Row) Wrong(column, format string, args ...any) {
	r.Problem(r.Line, column, format, args...)
	r.Bad = true
}

// Text gives a field as written, "" where the file lacks the column.
func (r *Row) Text(column string) string {
	if i, ok := r.at[column]; ok {
		return r.fields[i]
	}
	return ""
}

// Needed gives a field that may not be blank.
func (r *Row) Needed(column string) string {
	field := r.Text(column)
	if field == "" {
		r.Wrong(column, "blank: the row needs it")
	}
	return field
}

// Day reads a day.
func (r *Row) Day(column string) calendar.Day {
	field := r.Needed(column)
	if field == "" {
		return 0
	}
	d, err := calendar.ParseDay(field)
	if err != nil {
		r.Wrong(column, "%s is no day: expected YYYY-MM-DD such as 2026-03-02", Quote(field))
	}
	return d
}

// Beyond is more than any plant burns, stores or makes in any span: such a number is a slip.
const Beyond = 1e12

// Number reads a number, nil where blank.
func (r *Row) Number(column string) *float64 {
	field := r.Text(column)
	if field == "" {
		return nil
	}
	x, err := strconv.ParseFloat(field, 64)
	switch {
	case strings.Trim(field, "0123456789+-.eE") != "", err != nil && !math.IsInf(x, 0):
		r.Wrong(column, "%s is no number: expected digits with a decimal point and no thousands separators, such as 1205.5", Quote(field))
		return nil
	case math.Abs(x) > Beyond:
		r.Wrong(column, "%s is beyond all measure: check the number", Quote(field))
		return nil
	}
	x += 0 // a negative zero becomes a plain one
	return &x
}

// Positive reads a number above zero, nil where blank.
func (r *Row) Positive(column string) *float64 {
	x := r.Number(column)
	if x != nil && *x <= 0 {
		r.Wrong(column, "%s: expected a number above 0, or a blank where it is not known", Quote(r.Text(column)))
		return nil
	}
	return x
}

// Quote shows what was found, a long one shortened.
func Quote(field string) string { return strconv.Quote(Clip(field)) }

// Clip shortens a text that is too long for a message.
func Clip(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
