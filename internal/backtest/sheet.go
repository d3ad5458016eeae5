package backtest

import (
	"bufio"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"overwinter/internal/fault"
)

// sheet is one CSV file while it is read.
type sheet struct {
	order              int
	file               string
	required, optional []string
	problems           *problems
	at                 map[string]int // where each column stands; nil before the header is read
	width              int
	rows               int // read, blank ones apart
}

func (s *sheet) problem(line int, column, format string, args ...any) {
	s.problems.add(problem{s.order, s.file, line, column, fmt.Sprintf(format, args...)})
}

// read gives each row that is not blank to take. An error is one of reading; what is wrong with the content
// goes to the problems.
func (s *sheet) read(ctx context.Context, in io.Reader, take func(*row)) error {
	buffered := bufio.NewReaderSize(in, 1<<16)
	if mark, _ := buffered.Peek(3); string(mark) == "\xef\xbb\xbf" { // the mark that spreadsheets write
		_, _ = buffered.Discard(3)
	}
	reader := csv.NewReader(buffered)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	for ctx.Err() == nil {
		fields, err := reader.Read()
		var malformed *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			s.end()
			return nil
		case errors.As(err, &malformed):
			s.problem(malformed.StartLine, "", "a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it")
			if s.at == nil {
				return nil
			}
			continue
		case err != nil:
			return fault.Wrap(fault.Invalid, err, "%s cannot be read", s.file)
		}
		line, _ := reader.FieldPos(0)
		if !s.record(line, fields, take) {
			return nil
		}
	}
	return ctx.Err()
}

func (s *sheet) end() {
	switch {
	case s.at == nil:
		s.problem(0, "", "the file is empty: expected a header line with %s", strings.Join(s.required, ","))
	case s.rows == 0:
		s.problem(0, "", "the file has a header and no rows: expected at least one")
	}
}

// record takes one record of the file and tells whether to go on.
func (s *sheet) record(line int, fields []string, take func(*row)) (more bool) {
	for i, field := range fields {
		if !utf8.ValidString(field) {
			s.problem(line, "", "field %d is not UTF-8: save the file as CSV UTF-8", i+1)
			return false
		}
		fields[i] = strings.TrimSpace(field)
	}
	switch {
	case !slices.ContainsFunc(fields, func(f string) bool { return f != "" }):
		return true
	case s.at == nil:
		return s.header(line, fields)
	}
	s.rows++
	if len(fields) != s.width {
		s.problem(line, "", "the row has %d fields, the header %d: look for a missing comma, or one inside a field that is not quoted", len(fields), s.width)
		return true
	}
	take(&row{sheet: s, line: line, fields: fields})
	return true
}

// header takes the header line.
func (s *sheet) header(line int, names []string) (ok bool) {
	s.at, s.width = map[string]int{}, len(names)
	known := slices.Concat(s.required, s.optional)
	ok = true
	wrong := func(column, format string, args ...any) {
		ok = false
		s.problem(line, column, format, args...)
	}
	for i, name := range names {
		_, twice := s.at[name]
		switch {
		case twice:
			wrong(clip(name), "the column stands twice: keep one")
		case slices.Contains(known, name):
			s.at[name] = i
		case strings.ContainsAny(name, ";\t"):
			wrong(clip(name), "the columns are not separated by commas: save the file with commas")
		default:
			wrong(clip(name), "unknown column: expected %s; rename it or take it out", strings.Join(known, ", "))
		}
	}
	for _, name := range s.required {
		if _, there := s.at[name]; !there {
			wrong(name, "the column is missing: add it to the header")
		}
	}
	return ok
}
