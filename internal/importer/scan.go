package importer

import (
	"bufio"
	"crypto/sha256"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// table is one file as read.
type table struct {
	*sheet
	run   *run
	order int // among the sheets
	cells map[string]cell
	width int                 // number of columns
	count int                 // rows that were not blank
	sum   [sha256.Size]byte   // of the file's bytes
	each  func(entered) error // takes each row as it is read

	kept     bool      // all rows are held, since others refer to them or they to each other
	rows     []entered // of a table that is kept
	blind    bool      // what the rows refer to could not all be read, so they are not checked
	replaced map[string]replacer
	repeated map[int]int // lines of rows that repeat an earlier one, with the line of that
}

// entered is a record and the line its row begins at.
type entered struct {
	record record
	line   int
	bad    bool // a problem of the row has been named
}

// place locates a problem under the header that a column has in this file.
func (t *table) place(line int, column string) place {
	if c, ok := t.cells[column]; ok {
		column = c.header
	}
	return place{order: t.order, file: t.file, line: line, column: column}
}

func (t *table) problem(line int, column, format string, args ...any) {
	t.run.problems.add(t.place(line, column), fmt.Sprintf(format, args...))
}

// unread tells that a row, or the rest of the file, could not be read at all.
func (t *table) unread(line int, column, format string, args ...any) {
	t.problem(line, column, format, args...)
	if t.referred {
		t.run.holes[t.sheet] = true
	}
}

// scan reads the file; an error is one of reading or of who takes the rows, not of content.
func (t *table) scan(file io.Reader) error {
	buffered := bufio.NewReaderSize(file, 1<<16)
	if mark, _ := buffered.Peek(3); string(mark) == "\xef\xbb\xbf" {
		_, _ = buffered.Discard(3)
	}
	reader := csv.NewReader(buffered)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	for {
		fields, err := reader.Read()
		var malformed *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if t.cells == nil {
				t.unread(0, "", "the file is empty: expected a header line")
			}
			return nil
		case errors.As(err, &malformed):
			t.unread(malformed.StartLine, "", "a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it")
			if t.cells == nil {
				return nil
			}
			continue
		case err != nil:
			return err
		}
		line, _ := reader.FieldPos(0)
		if more, err := t.take(line, fields); err != nil || !more {
			return err
		}
	}
}

// take reads one line of the file and tells whether to go on.
func (t *table) take(line int, fields []string) (more bool, err error) {
	for i, field := range fields {
		if !utf8.ValidString(field) {
			t.unread(line, t.headerAt(i), "byte 0x%02X is not UTF-8: save the file as CSV UTF-8", firstBadByte(field))
			return false, nil
		}
		fields[i] = strings.TrimSpace(field)
	}
	switch {
	case t.cells == nil:
		return t.open(line, fields), nil
	case blank(fields):
		return true, nil
	case len(fields) != t.width:
		t.unread(line, "", "the row has %d fields, the header %d: look for a missing comma, or one inside a field that is not quoted", len(fields), t.width)
		return true, nil
	}
	t.count++
	err = t.add(row{table: t, fields: fields, line: line})
	return err == nil, err
}

// open takes the header line.
func (t *table) open(line int, names []string) bool {
	cells, found := t.head(names)
	for _, f := range found {
		t.unread(line, clip(f.Where), "%s", f.Message)
	}
	if len(found) > 0 {
		return false
	}
	t.width = len(names)
	t.cells = make(map[string]cell, len(cells))
	for i, c := range cells {
		t.cells[t.columns[i].name] = c
	}
	return true
}

// add makes a record of a row and passes it on.
func (t *table) add(r row) error {
	r.void = t.has("void") && r.yes("void")
	for _, c := range t.columns {
		if c.need == always || c.need == filled && !r.void {
			r.require(c)
		}
	}
	made := t.build(&r)
	if made == nil {
		return nil
	}
	if base := made.Base(); base.Key == "" {
		base.Key = t.identity(made)
	}
	return t.each(entered{made, r.line, r.bad})
}

func (t *table) has(column string) bool {
	_, ok := t.cells[column]
	return ok
}

// headerAt names the column at a position, if the header has been read.
func (t *table) headerAt(position int) string {
	for _, c := range t.cells {
		if c.position == position {
			return c.header
		}
	}
	return fmt.Sprintf("column %d", position+1)
}

func blank(fields []string) bool {
	for _, f := range fields {
		if f != "" {
			return false
		}
	}
	return true
}

func firstBadByte(text string) byte {
	for i, r := range text {
		if r == utf8.RuneError {
			if _, size := utf8.DecodeRuneInString(text[i:]); size == 1 {
				return text[i]
			}
		}
	}
	return 0
}
