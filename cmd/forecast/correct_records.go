package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// records reads CSV record by record and keeps each as it stands, so that it can be written out again to
// the byte. encoding/csv gives the fields only, and takes longer over them than their correction takes.
type records struct {
	in     *bufio.Reader
	line   int      // that the record begins at
	raw    []byte   // the record, without its line break
	ending string   // the line break
	fields [][]byte // parts of raw: without the quotes around them, doubled quotes inside left doubled
	lines  int      // read so far
}

// longest is the most bytes that one record may have: a quote that is never closed would otherwise take in
// the rest of the file.
const longest = 1 << 20

// What is no CSV.
var (
	errQuote = errors.New("a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it")
	errLong  = errors.New("the row is longer than 1 MB: look for a quote that is not closed")
)

// newRecords reads a file, without the byte order mark that spreadsheets write.
func newRecords(file io.Reader) *records {
	in := bufio.NewReaderSize(file, flushAt)
	if mark, _ := in.Peek(3); string(mark) == "\xef\xbb\xbf" {
		_, _ = in.Discard(3)
	}
	return &records{in: in}
}

// next reads the next record that is not empty, with io.EOF after the last.
func (r *records) next() error {
	for {
		if err := r.gather(); err != nil {
			return err
		}
		if len(r.raw) > 0 {
			return r.split()
		}
	}
}

// gather reads lines until every quote is closed.
func (r *records) gather() error {
	r.line, r.raw = r.lines+1, r.raw[:0]
	for quotes := 0; ; {
		part, err := r.in.ReadSlice('\n')
		r.raw = append(r.raw, part...)
		quotes += bytes.Count(part, []byte{'"'})
		switch {
		case len(r.raw) > longest:
			return errLong
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && (!errors.Is(err, io.EOF) || len(r.raw) == 0):
			return err
		case err != nil && quotes%2 == 1:
			return errQuote
		}
		r.lines++
		if quotes%2 == 0 {
			r.chop()
			return nil
		}
	}
}

// chop takes the line break off.
func (r *records) chop() {
	r.ending = "\n"
	if n := len(r.raw); n > 0 && r.raw[n-1] == '\n' {
		r.raw = r.raw[:n-1]
	}
	if n := len(r.raw); n > 0 && r.raw[n-1] == '\r' {
		r.raw, r.ending = r.raw[:n-1], "\r\n"
	}
}

// split finds the fields of the record.
func (r *records) split() error {
	r.fields = r.fields[:0]
	for start := 0; start <= len(r.raw); {
		end, from, to := start, start, 0
		if end < len(r.raw) && r.raw[end] == '"' {
			from = start + 1
			to = from + closing(r.raw[from:])
			end = to + 1
			if to < from || end < len(r.raw) && r.raw[end] != ',' {
				return errQuote
			}
		} else {
			for ; end < len(r.raw) && r.raw[end] != ','; end++ {
				if r.raw[end] == '"' {
					return errQuote
				}
			}
			to = end
		}
		r.fields = append(r.fields, r.raw[from:to])
		start = end + 1
	}
	return nil
}

// closing finds the quote that ends a field, after the one that begins it; -1 if none does.
func closing(text []byte) int {
	for i := 0; i < len(text); i++ {
		if text[i] != '"' {
			continue
		}
		if i+1 == len(text) || text[i+1] != '"' {
			return i
		}
		i++
	}
	return -1
}
