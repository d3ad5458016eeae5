// Package fault holds the product's errors: what kind of failure it is, a message for people, and
// the rows or fields it is about. The cause stays inside and is never shown to a client.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Kind says what sort of failure an error is; callers choose exit codes and status codes by it.
type Kind int

// The kinds of failure.
const (
	Internal    Kind = iota // our own: nothing the user can mend
	Invalid                 // the input is wrong; Fields says where
	NotFound                // what was asked for is not there
	Conflict                // the same key with other content, or a row corrected twice
	Unavailable             // the store cannot be reached now
)

// String names the kind.
func (k Kind) String() string {
	return [...]string{"internal", "invalid", "not found", "conflict", "unavailable"}[k]
}

// Field is one place where the input is wrong.
type Field struct {
	Where   string `json:"where"`   // file:row:column, or a field's name
	Message string `json:"message"` // what was found and what was expected, and what to do
}

// Error is a failure with a message for people.
type Error struct {
	Kind    Kind
	Message string
	Fields  []Field
	cause   error
}

// New makes an error of a kind.
func New(kind Kind, format string, args ...any) *Error {
	return &Error{Kind: kind, Message: fmt.Sprintf(format, args...)}
}

// Wrap makes an error of a kind that keeps its cause for the log.
func Wrap(kind Kind, cause error, format string, args ...any) *Error {
	return &Error{Kind: kind, Message: fmt.Sprintf(format, args...), cause: cause}
}

// With adds the fields an error is about.
func (e *Error) With(fields ...Field) *Error {
	e.Fields = append(e.Fields, fields...)
	return e
}

// Error gives the message, its fields a line each, and the cause.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.Message)
	for _, f := range e.Fields {
		fmt.Fprintf(&b, "\n  %s: %s", f.Where, f.Message)
	}
	if e.cause != nil {
		fmt.Fprintf(&b, ": %v", e.cause)
	}
	return b.String()
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.cause }

// KindOf gives the kind of the outermost fault in an error's chain; any other error is internal.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}
