// Package strict reads JSON that people write, field by field, and says where it is wrong: each problem names the file, the line and
// the field, what was found and what was expected. Nothing is guessed and nothing passed over: a field that nobody asked for, that
// stands twice or in two units is a problem.
package strict

import (
	"fmt"
	"io"

	"overwinter/internal/fault"
)

// Reader reads one text.
type Reader struct {
	name, what string
	problems   []fault.Field
	count      int // problems found, listed or not
}

// New begins the reading of a text. name is that of the file, and what the text is to be, for messages: tank description.
func New(name, what string) *Reader { return &Reader{name: name, what: what} }

// Parse reads the whole text as one JSON value; nil after a problem.
func (r *Reader) Parse(in io.Reader) (*Node, error) {
	text, err := io.ReadAll(io.LimitReader(in, LongestText+4)) // a byte order mark and one byte too many
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "%s cannot be read", r.name)
	}
	return r.parse(text), nil
}

// Count tells how many problems were found so far.
func (r *Reader) Count() int { return r.count }

// Err lists the problems; nil where there is none.
func (r *Reader) Err() error {
	if r.count == 0 {
		return nil
	}
	err := fault.New(fault.Invalid, "the %s cannot be used", r.what).With(r.problems...)
	if left := r.count - len(r.problems); left > 0 {
		err = err.With(fault.Field{Where: r.name, Message: fmt.Sprintf("and %d more", left)})
	}
	return err
}
