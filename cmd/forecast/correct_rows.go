package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"

	"overwinter/internal/fault"
)

// correction is one run over the rows of a file.
type correction struct {
	name                string // of the file, for messages
	round, densitometer bool
	out                 io.Writer

	columns columns
	fuel    fuel   // of the row before, which the next often shares
	buffer  []byte // whole rows to be written
}

// flushAt is how many bytes are gathered before they are written, pauseAt how many rows are done between two
// looks at whether to stop.
const (
	flushAt = 1 << 16
	pauseAt = 1 << 12
)

// run reads, corrects and writes. Whatever stops it, what was written is whole rows.
func (k *correction) run(ctx context.Context, in io.Reader) error {
	err := k.rows(ctx, newRecords(in))
	if len(k.buffer) > 0 {
		err = errors.Join(err, flush(k.out, &k.buffer))
	}
	return err
}

func (k *correction) rows(ctx context.Context, r *records) error {
	for count := 0; ; count++ {
		if count%pauseAt == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		err := r.next()
		switch {
		case errors.Is(err, io.EOF) && count == 0:
			return fault.New(fault.Invalid, "%s is empty: expected a header line with the columns density_kgm3, density_basis and temperature_c or temperature_f", k.name)
		case errors.Is(err, io.EOF):
			return nil
		case errors.Is(err, errQuote), errors.Is(err, errLong):
			return k.wrong(r.line, "", err.Error())
		case err != nil:
			return fault.Wrap(fault.Invalid, err, "%s cannot be read", k.name)
		case count == 0:
			err = k.open(r)
		default:
			err = k.row(r)
		}
		if err != nil {
			return err
		}
	}
}

// open takes the header line.
func (k *correction) open(r *records) error {
	names := make([]string, len(r.fields))
	for i, f := range r.fields {
		names[i] = string(bytes.TrimSpace(f))
	}
	columns, found := findColumns(names)
	if len(found) > 0 {
		err := fault.New(fault.Invalid, "nothing was written: the header is wrong")
		for _, f := range found {
			err = err.With(fault.Field{Where: k.place(r.line, f.Where), Message: f.Message})
		}
		return err
	}
	k.columns = columns
	k.buffer = append(k.buffer, r.raw...)
	for _, name := range columnsAdded {
		k.buffer = append(append(k.buffer, ','), name...)
	}
	k.buffer = append(k.buffer, r.ending...)
	return nil
}

// row corrects one row.
func (k *correction) row(r *records) error {
	if len(r.fields) != k.columns.width {
		if blank(r.fields) {
			return nil
		}
		return k.wrong(r.line, "", fmt.Sprintf(
			"the row has %d fields, the header %d: look for a missing comma, or one inside a field that is not quoted", len(r.fields), k.columns.width))
	}
	figures, problem := k.correct(r.fields)
	if problem != nil {
		if blank(r.fields) {
			return nil
		}
		return k.wrong(r.line, problem.Where, problem.Message)
	}
	k.write(r.raw, figures, r.ending)
	if len(k.buffer) >= flushAt {
		return flush(k.out, &k.buffer)
	}
	return nil
}

// wrong is the error of a row that stops the command.
func (k *correction) wrong(line int, column, message string) error {
	return fault.New(fault.Invalid, "stopped at the first wrong row: the rows before it are written, nothing after it").
		With(fault.Field{Where: k.place(line, column), Message: message})
}

// place names a row and a column of the file.
func (k *correction) place(line int, column string) string {
	place := k.name + ":" + strconv.Itoa(line)
	if column != "" {
		place += ":" + column
	}
	return place
}

// blank tells of a row without content.
func blank(fields [][]byte) bool {
	for _, f := range fields {
		if len(bytes.TrimSpace(f)) > 0 {
			return false
		}
	}
	return true
}
