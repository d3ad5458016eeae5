// Package sheet reads CSV tables that people write and names what is wrong by file, row and column: every problem of all tables is
// found in one pass. Nothing is guessed and nothing passed over: a column that nobody asked for is a problem.
package sheet

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

// Source is a CSV file to be read.
type Source struct {
	Name string // for messages
	In   io.Reader
}

// Sheet is one CSV file while it is read.
type Sheet struct {
	order int
	Source
	required, optional []string
	problems           *Problems
	at                 map[string]int // where each column stands; nil before the header is read
	width              int
	rows               int // read, blank ones apart
}

// New begins the reading of a file with the columns that it must have and may have.
func (p *Problems) New(file Source, required []string, optional ...string) *Sheet {
	p.files++
	return &Sheet{order: p.files, Source: file, required: required, optional: optional, problems: p}
}

// Problem notes what is wrong with a line, or with the whole file where it is 0; the column may be blank.
func (s *Sheet) Problem(line int, column, format string, args ...any) {
	s.problems.add(problem{s.order, s.Name, line, column, fmt.Sprintf(format, args...)})
}

// Read gives each row that is not blank to take. An error is one of reading; what is wrong with the content
// goes to the problems.
func (s *Sheet) Read(ctx context.Context, take func(*Row)) error {
	buffered := bufio.NewReaderSize(s.In, 1<<16)
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
			s.Problem(malformed.StartLine, "", "a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it")
			if s.at == nil {
				return nil
			}
			continue
		case err != nil:
			return fault.Wrap(fault.Invalid, err, "%s cannot be read", s.Name)
		}
		line, _ := reader.FieldPos(0)
		if !s.record(line, fields, take) {
			return nil
		}
	}
	return ctx.Err()
}

func (s *Sheet) end() {
	switch {
	case s.at == nil:
		s.Problem(0, "", "the file is empty: expected a header line with %s", strings.Join(s.required, ","))
	case s.rows == 0:
		s.Problem(0, "", "the file has a header and no rows: expected at least one")
	}
}

// record takes one record of the file and tells whether to go on.
func (s *Sheet) record(line int, fields []string, take func(*Row)) (more bool) {
	for i, field := range fields {
		if !utf8.ValidString(field) {
			s.Problem(line, "", "field %d is not UTF-8: save the file as CSV UTF-8", i+1)
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
		s.Problem(line, "", "the row has %d fields, the header %d: look for a missing comma, or one inside a field that is not quoted", len(fields), s.width)
		return true
	}
	take(&Row{Sheet: s, Line: line, fields: fields})
	return true
}

// header takes the header line.
func (s *Sheet) header(line int, names []string) (ok bool) {
	s.at, s.width = map[string]int{}, len(names)
	known := slices.Concat(s.required, s.optional)
	ok = true
	wrong := func(column, format string, args ...any) {
		ok = false
		s.Problem(line, column, format, args...)
	}
	for i, name := range names {
		_, twice := s.at[name]
		switch {
		case twice:
			wrong(Clip(name), "the column stands twice: keep one")
		case slices.Contains(known, name):
			s.at[name] = i
		case strings.ContainsAny(name, ";\t"):
			wrong(Clip(name), "the columns are not separated by commas: save the file with commas")
		default:
			wrong(Clip(name), "unknown column: expected %s; rename it or take it out", strings.Join(known, ", "))
		}
	}
	for _, name := range s.required {
		if _, there := s.at[name]; !there {
			wrong(name, "the column is missing: add it to the header")
		}
	}
	return ok
}
