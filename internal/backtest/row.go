package backtest

import (
	"math"
	"strconv"
	"strings"

	"overwinter/internal/calendar"
)

// row is one row while it is read. Its getters name what is wrong and go on with a zero value, so that every
// problem of a row is found in one pass.
type row struct {
	*sheet
	line   int
	fields []string
	bad    bool
}

func (r *row) wrong(column, format string, args ...any) {
	r.problem(r.line, column, format, args...)
	r.bad = true
}

// text gives a field as written, "" where the file lacks the column.
func (r *row) text(column string) string {
	if i, ok := r.at[column]; ok {
		return r.fields[i]
	}
	return ""
}

// needed gives a field that may not be blank.
func (r *row) needed(column string) string {
	field := r.text(column)
	if field == "" {
		r.wrong(column, "blank: the row needs it")
	}
	return field
}

// span reads the columns start and end.
func (r *row) span() Span {
	s := Span{Start: r.day("start"), End: r.day("end"), line: r.line}
	if !r.bad && s.End <= s.Start {
		r.wrong("end", "%s is not after the start %s: expected the first day that no longer belongs to the row", s.End, s.Start)
	}
	return s
}

func (r *row) day(column string) calendar.Day {
	field := r.needed(column)
	if field == "" {
		return 0
	}
	d, err := calendar.ParseDay(field)
	if err != nil {
		r.wrong(column, "%s is no day: expected YYYY-MM-DD such as 2026-03-02", quote(field))
	}
	return d
}

// beyond is more than any plant burns, stores or makes in any span: such a number is a slip.
const beyond = 1e12

// number reads a number, nil where blank.
func (r *row) number(column string) *float64 {
	field := r.text(column)
	if field == "" {
		return nil
	}
	x, err := strconv.ParseFloat(field, 64)
	switch {
	case strings.Trim(field, "0123456789+-.eE") != "", err != nil && !math.IsInf(x, 0):
		r.wrong(column, "%s is no number: expected digits with a decimal point and no thousands separators, such as 1205.5", quote(field))
		return nil
	case math.Abs(x) > beyond:
		r.wrong(column, "%s is beyond all measure: check the number", quote(field))
		return nil
	}
	x += 0 // a negative zero becomes a plain one
	return &x
}

// positive reads a number above zero, nil where blank.
func (r *row) positive(column string) *float64 {
	x := r.number(column)
	if x != nil && *x <= 0 {
		r.wrong(column, "%s: expected a number above 0, or a blank where it is not known", quote(r.text(column)))
		return nil
	}
	return x
}

func quote(field string) string { return strconv.Quote(clip(field)) }

// clip shortens a text that is too long for a message.
func clip(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
